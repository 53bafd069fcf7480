using System.Globalization;

namespace Derivid.Store.Seeding;

/// <summary>One data row of a table file, read cell by cell.</summary>
/// <remarks>Errors: every accessor throws <see cref="SeedTableException"/> naming file, line, column, value.</remarks>
public sealed class CsvRow
{
    private const NumberStyles DecimalNumber = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;

    private readonly string _file;
    private readonly IReadOnlyList<string> _header;
    private readonly IReadOnlyList<string> _cells;

    internal CsvRow(string file, int line, IReadOnlyList<string> header, IReadOnlyList<string> cells)
    {
        (_file, Line, _header, _cells) = (file, line, header, cells);
    }

    /// <summary>Line in the file, the header being line 1.</summary>
    public int Line { get; }

    /// <summary>A text that must be there.</summary>
    public string Text(string column) => OptionalText(column) ?? throw Refuse(column, "a text");

    /// <summary>A text. Missing: null for an empty cell.</summary>
    public string? OptionalText(string column)
    {
        var cell = Cell(column);
        if (cell != cell.Trim())
        {
            throw Refuse(column, "no spaces at either end");
        }

        return cell.Length == 0 ? null : cell;
    }

    /// <summary>A decimal number with a point.</summary>
    public double Number(string column) => OptionalNumber(column) ?? throw Refuse(column, "a decimal number");

    /// <summary>A decimal number with a point. Missing: null for an empty cell.</summary>
    public double? OptionalNumber(string column) =>
        Cell(column).Length == 0 ? null : ParseNumber(column, Cell(column));

    /// <summary>A whole number.</summary>
    public int WholeNumber(string column) =>
        int.TryParse(Cell(column), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value)
            ? value
            : throw Refuse(column, "a whole number");

    /// <summary>"yes" or "no".</summary>
    public bool YesNo(string column) => Cell(column) switch
    {
        "yes" => true,
        "no" => false,
        _ => throw Refuse(column, "yes, no"),
    };

    /// <summary>"yes", "no" or "unstated". Missing: null for "unstated".</summary>
    public bool? YesNoUnstated(string column) => Cell(column) switch
    {
        "yes" => true,
        "no" => false,
        "unstated" => null,
        _ => throw Refuse(column, "yes, no, unstated"),
    };

    /// <summary>Texts parted by semicolons. Shape: empty for an empty cell.</summary>
    public IReadOnlyList<string> Texts(string column)
    {
        var cell = Cell(column);
        if (cell.Length == 0)
        {
            return [];
        }

        var parts = cell.Split(';');
        return parts.All(part => part.Length > 0 && part == part.Trim())
            ? parts
            : throw Refuse(column, "texts parted by semicolons, no spaces around them, none empty");
    }

    /// <summary>Decimal numbers parted by semicolons. Shape: empty for an empty cell.</summary>
    public IReadOnlyList<double> Numbers(string column) =>
        [.. Texts(column).Select(part => ParseNumber(column, part))];

    /// <summary>The word of a member of an enumeration.</summary>
    public TEnum Keyword<TEnum>(string column)
        where TEnum : struct, Enum =>
        Seeding.Keyword.Find<TEnum>(Cell(column)) ?? throw Refuse(column, Seeding.Keyword.Words<TEnum>());

    private double ParseNumber(string column, string text) =>
        double.TryParse(text, DecimalNumber, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)
            ? value
            : throw Refuse(column, "a decimal number with a point, no exponent");

    private string Cell(string column)
    {
        for (var i = 0; i < _header.Count; i++)
        {
            if (_header[i] == column)
            {
                return _cells[i];
            }
        }

        throw new ArgumentException($"{_file} has no column {column}.", nameof(column));
    }

    private SeedTableException Refuse(string column, string allowed) =>
        SeedTableException.AtCell(_file, Line, column, Cell(column), allowed);
}

using System.Globalization;

namespace Derivid.Store.Seeding;

/// <summary>One data row of a table file, read cell by cell.</summary>
/// <remarks>
/// Errors: accessors of a sealed table's row throw <see cref="SeedTableException"/> naming file, line, column, value.
/// Those of a row being imported note a <see cref="CellFault"/> and give a stand-in, so that every fault of a row is told.
/// </remarks>
public sealed class CsvRow
{
    private const NumberStyles DecimalNumber = NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint;

    private readonly string _file;
    private readonly IReadOnlyList<string> _header;
    private readonly IReadOnlyList<string> _cells;
    private readonly List<CellFault>? _faults;

    internal CsvRow(
        string file, int line, IReadOnlyList<string> header, IReadOnlyList<string> cells, List<CellFault>? faults = null)
    {
        (_file, Line, _header, _cells, _faults) = (file, line, header, cells, faults);
    }

    /// <summary>Line in the file, the header being line 1.</summary>
    public int Line { get; }

    /// <summary>A text that must be there.</summary>
    public string Text(string column) => OptionalText(column) ?? Refused(column, "a text", "");

    /// <summary>A text. Missing: null for an empty cell.</summary>
    public string? OptionalText(string column)
    {
        var cell = Cell(column);
        return cell != cell.Trim() ? Refused(column, "no spaces at either end", cell.Trim())
            : cell.Length == 0 ? null
            : cell;
    }

    /// <summary>A decimal number with a point.</summary>
    public double Number(string column) => OptionalNumber(column) ?? Refused(column, "a decimal number", 0.0);

    /// <summary>A decimal number with a point. Missing: null for an empty cell.</summary>
    public double? OptionalNumber(string column) =>
        Cell(column).Length == 0 ? null : ParseNumber(column, Cell(column));

    /// <summary>A whole number.</summary>
    public int WholeNumber(string column) =>
        int.TryParse(Cell(column), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value)
            ? value
            : Refused(column, "a whole number", 0);

    /// <summary>"yes" or "no".</summary>
    public bool YesNo(string column) => Word(column) switch
    {
        "yes" => true,
        "no" => false,
        _ => Refused(column, "yes, no", false),
    };

    /// <summary>"yes", "no" or "unstated". Missing: null for "unstated".</summary>
    public bool? YesNoUnstated(string column) => Word(column) switch
    {
        "yes" => true,
        "no" => false,
        "unstated" => null,
        _ => Refused<bool?>(column, "yes, no, unstated", null),
    };

    /// <summary>Texts parted by semicolons. Shape: empty for an empty cell.</summary>
    public IReadOnlyList<string> Texts(string column)
    {
        var cell = Cell(column);
        if (cell.Length == 0)
        {
            return [];
        }

        var parts = cell.Split(
            CsvCell.ListSeparator, _faults is null ? StringSplitOptions.None : StringSplitOptions.TrimEntries);
        return parts.All(part => part.Length > 0 && part == part.Trim())
            ? parts
            : Refused<string[]>(column, "texts parted by semicolons, no spaces around them, none empty", []);
    }

    /// <summary>Decimal numbers parted by semicolons. Shape: empty for an empty cell.</summary>
    public IReadOnlyList<double> Numbers(string column) =>
        [.. Texts(column).Select(part => ParseNumber(column, part))];

    /// <summary>The word of a member of an enumeration.</summary>
    public TEnum Keyword<TEnum>(string column)
        where TEnum : struct, Enum =>
        Seeding.Keyword.Find<TEnum>(Word(column)) ?? Refused<TEnum>(column, Seeding.Keyword.Words<TEnum>(), default);

    /// <summary>The word of a member of an enumeration. Missing: null for an empty cell.</summary>
    public TEnum? OptionalKeyword<TEnum>(string column)
        where TEnum : struct, Enum =>
        Word(column).Length == 0 ? null : Keyword<TEnum>(column);

    private double ParseNumber(string column, string text) =>
        double.TryParse(_faults is null ? text : SpreadsheetHabits.Number(text), DecimalNumber, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value)
            ? value
            : Refused(column, "a decimal number with a point, no exponent", 0.0);

    private string Word(string column) => _faults is null ? Cell(column) : SpreadsheetHabits.Word(Cell(column));

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

    private T Refused<T>(string column, string allowed, T standIn)
    {
        if (_faults is null)
        {
            throw SeedTableException.AtCell(_file, Line, column, Cell(column), allowed);
        }

        _faults.Add(new CellFault(Line, column, Cell(column), allowed));
        return standIn;
    }
}

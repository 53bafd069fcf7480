using System.Globalization;
using System.Reflection;
using System.Text.RegularExpressions;

namespace Derivid.Core.Curation;

/// <summary>What the cells of a column hold.</summary>
public enum CellContent
{
    /// <summary>A text.</summary>
    Text,

    /// <summary>A decimal number with a point.</summary>
    Number,

    /// <summary>A whole number.</summary>
    WholeNumber,

    /// <summary>A word of a vocabulary: yes and no, or the members of an enumeration in lower case with hyphens.</summary>
    Word,

    /// <summary>Texts parted by semicolons.</summary>
    Texts,

    /// <summary>Decimal numbers parted by semicolons.</summary>
    Numbers,
}

/// <summary>A column's line in the registration of its kind: the property, and what the property can't tell of itself.</summary>
/// <param name="Field">Name of the record's property.</param>
/// <param name="Label">
/// What whoever looks it up or types it is told it is, with its unit. Missing: null, its name in words.
/// </param>
public sealed record ColumnLine(string Field, string? Label = null)
{
    /// <summary>Whether it is a flag that may be left empty and is then no.</summary>
    public bool IsOptionalFlag { get; init; }

    /// <summary>The list whose records it names by their key; only such a record may be named. Missing: null, it names none.</summary>
    public RecordKind? Names { get; init; }

    /// <summary>What a new record usually holds there, of the property's type. Missing: null, nothing is usual.</summary>
    public object? Usual { get; init; }

    /// <summary>Whether a file may leave it out though it must be there, since it follows from the rest of the record.</summary>
    public bool IsWorkedOut { get; init; }

    /// <summary>What is to be typed, where the label doesn't tell. Missing: null.</summary>
    public string? Hint { get; init; }

    /// <summary>Whether its texts are of a sentence and more.</summary>
    public bool IsLong { get; init; }

    /// <summary>A line that says nothing but the property.</summary>
    /// <param name="field">Name of the record's property.</param>
    public static implicit operator ColumnLine(string field) => new(field);
}

/// <summary>One column of a kind of record: a cell in files, a property in code, a column of the database, a field of a form.</summary>
/// <remarks>
/// What it is follows from the property: the heading from its name, what a cell holds and how it is written from its type,
/// whether it may be missing from its nullability. What people are told of it stands in its line of the registration. Thread
/// safety: immutable.
/// </remarks>
public sealed partial class RecordColumn
{
    private const char ListSeparator = ';';
    private const string Unstated = "unstated";
    private const string DecimalNumber = "a decimal number with a point, no exponent";

    // "0." and enough places for 17 digits behind eight zeros.
    private const string WithoutExponent = "0.############################";

    private readonly PropertyInfo _property;
    private readonly ColumnLine _line;
    private readonly IReadOnlyList<(string Word, object? Value)> _vocabulary;

    internal RecordColumn(PropertyInfo property, ColumnLine line)
    {
        Name = WordOf(property.Name, '_');
        (_property, _line) = (property, line);
        var optional = Nullable.GetUnderlyingType(property.PropertyType);
        var type = optional ?? property.PropertyType;
        IsRequired = property.PropertyType.IsValueType
            ? optional is null && !line.IsOptionalFlag
            : new NullabilityInfoContext().Create(property).ReadState == NullabilityState.NotNull;
        Content = ContentOf(type);
        _vocabulary = type == typeof(bool) ? [("yes", true), ("no", false), .. optional is null ? [] : new[] { (Unstated, (object?)null) }]
            : type.IsEnum ? [.. Enum.GetValues(type).Cast<Enum>().Select(member => (WordOf(member.ToString(), '-'), (object?)member))]
            : [];
    }

    /// <summary>Its name in files, such as "molar_mass": the word that JSON has as "molarMass".</summary>
    public string Name { get; }

    /// <summary>Name of the record's property, such as "MolarMass".</summary>
    public string Field => _property.Name;

    /// <summary>What whoever looks it up or types it is told it is, with its unit.</summary>
    public string Label => _line.Label ?? WordOf(Field, ' ');

    /// <inheritdoc cref="ColumnLine.Names"/>
    public RecordKind? Names => _line.Names;

    /// <inheritdoc cref="ColumnLine.Usual"/>
    public object? Usual => _line.Usual;

    /// <inheritdoc cref="ColumnLine.IsWorkedOut"/>
    public bool IsWorkedOut => _line.IsWorkedOut;

    /// <inheritdoc cref="ColumnLine.Hint"/>
    public string? Hint => _line.Hint;

    /// <inheritdoc cref="ColumnLine.IsLong"/>
    public bool IsLong => _line.IsLong;

    /// <summary>What its cells hold.</summary>
    public CellContent Content { get; }

    /// <summary>Whether a value must be there. A list may always be empty.</summary>
    public bool IsRequired { get; }

    /// <summary>Whether a record can't be made without a value there.</summary>
    public bool MustHold => IsRequired && Content is not (CellContent.Texts or CellContent.Numbers);

    /// <summary>What a record holds where nothing is said: an empty list, the "no" of a flag that may be left empty. Missing: null.</summary>
    internal object? Nothing => Content switch
    {
        CellContent.Texts => Array.Empty<string>(),
        CellContent.Numbers => Array.Empty<double>(),
        CellContent.Word when _line.IsOptionalFlag => false,
        _ => null,
    };

    /// <summary>What a cell of words can stand for. Shape: true and false, or the members of an enumeration; else empty.</summary>
    public IReadOnlyList<object> Vocabulary => [.. _vocabulary.Select(entry => entry.Value).OfType<object>()];

    /// <summary>The word that says that nothing is known, where yes and no leave a third. Missing: null, an empty cell says so.</summary>
    public string? MissingWord => _vocabulary.FirstOrDefault(entry => entry.Value is null).Word;

    /// <summary>The value in a record. Missing: null.</summary>
    /// <param name="record">A record of the column's kind.</param>
    public object? Of(object record) => _property.GetValue(record);

    /// <summary>What a record holds there. Missing: null; an empty list and the "no" of a flag that may be left empty are missing.</summary>
    /// <param name="record">A record of the column's kind.</param>
    public object? HeldBy(object record) => Of(record) switch
    {
        IReadOnlyList<string> { Count: 0 } or IReadOnlyList<double> { Count: 0 } => null,
        false when _line.IsOptionalFlag => null,
        var value => value,
    };

    /// <summary>The cell of a record. Missing: empty, or "unstated" where yes and no leave a third.</summary>
    /// <param name="record">A record of the column's kind.</param>
    public string Write(object record) => Of(record) switch
    {
        null => MissingWord ?? "",
        string text => text,
        IReadOnlyList<string> texts => string.Join(ListSeparator, texts),
        IReadOnlyList<double> numbers => string.Join(ListSeparator, numbers.Select(Text)),
        double number => Text(number),
        int number => number.ToString(CultureInfo.InvariantCulture),
        var member => Word(member),
    };

    /// <summary>The word that stands for a value of the vocabulary.</summary>
    /// <param name="value">The value.</param>
    /// <exception cref="InvalidOperationException">It is none of the vocabulary.</exception>
    public string Word(object value) => _vocabulary.First(entry => value.Equals(entry.Value)).Word;

    /// <summary>Reads a cell.</summary>
    /// <param name="cell">Its text.</param>
    /// <returns>The value, null where it is missing; or what is allowed there, where the cell can't be taken.</returns>
    public (object? Value, string? Allowed) Read(string cell)
    {
        ArgumentNullException.ThrowIfNull(cell);
        return Content switch
        {
            CellContent.Text when cell != cell.Trim() => Refused("no spaces at either end"),
            CellContent.Text when cell.Length > 0 => (cell, null),
            CellContent.Text => IsRequired ? Refused("a text") : default,
            CellContent.Number when cell.Length == 0 => IsRequired ? Refused("a decimal number") : default,
            CellContent.Number => Number(cell) is { } number ? (number, null) : Refused(DecimalNumber),
            CellContent.WholeNumber when cell.Length == 0 && !IsRequired => default,
            CellContent.WholeNumber => int.TryParse(cell, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var whole)
                ? (whole, null) : Refused("a whole number"),
            CellContent.Word => ReadWord(cell),
            CellContent.Texts => Texts(cell) is { } texts ? (texts, null) : RefusedList,
            CellContent.Numbers => ReadNumbers(cell),
        };
    }

    /// <summary>A number in its shortest form that reads back the same, without an exponent.</summary>
    /// <remarks>Bounds: 0, or a size from 1e-9 to 1e9, which is what the table's rules allow.</remarks>
    /// <param name="number">The number.</param>
    public static string Text(double number)
    {
        var shortest = number.ToString("R", CultureInfo.InvariantCulture);
        return shortest.Contains('E', StringComparison.Ordinal)
            ? decimal.Parse(shortest, NumberStyles.Float, CultureInfo.InvariantCulture)
                .ToString(WithoutExponent, CultureInfo.InvariantCulture)
            : shortest;
    }

    private static CellContent ContentOf(Type type) =>
        type == typeof(string) ? CellContent.Text
        : type == typeof(double) ? CellContent.Number
        : type == typeof(int) ? CellContent.WholeNumber
        : type == typeof(bool) || type.IsEnum ? CellContent.Word
        : type == typeof(IReadOnlyList<string>) ? CellContent.Texts
        : type == typeof(IReadOnlyList<double>) ? CellContent.Numbers
        : throw new NotSupportedException($"No cell holds a {type}.");

    private static string WordOf(string name, char separator) => WordStart().Replace(name, separator + "$0").ToLowerInvariant();

    private static (object?, string?) Refused(string allowed) => (null, allowed);

    private static (object?, string?) RefusedList =>
        Refused("texts parted by semicolons, no spaces around them, none empty");

    private static double? Number(string text) =>
        double.TryParse(
            text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var number)
        && double.IsFinite(number) ? number : null;

    private static string[]? Texts(string cell)
    {
        var parts = cell.Length == 0 ? [] : cell.Split(ListSeparator);
        return parts.All(part => part.Length > 0 && part == part.Trim()) ? parts : null;
    }

    private (object?, string?) ReadWord(string cell)
    {
        if (cell.Length == 0 && !IsRequired && !_vocabulary.Any(entry => entry.Value is null))
        {
            return (_line.IsOptionalFlag ? false : null, null);
        }

        var known = _vocabulary.Where(entry => entry.Word == cell).ToList();
        return known.Count > 0 ? (known[0].Value, null) : Refused(string.Join(", ", _vocabulary.Select(entry => entry.Word)));
    }

    private static (object?, string?) ReadNumbers(string cell)
    {
        if (Texts(cell) is not { } parts)
        {
            return RefusedList;
        }

        var numbers = parts.Select(Number).ToList();
        return numbers.Contains(null) ? Refused(DecimalNumber) : ((double[])[.. numbers.OfType<double>()], null);
    }

    [GeneratedRegex("(?<!^)[A-Z]")]
    private static partial Regex WordStart();
}

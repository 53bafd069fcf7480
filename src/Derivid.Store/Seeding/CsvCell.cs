using System.Globalization;

namespace Derivid.Store.Seeding;

/// <summary>How values are written into the cells of a table file; the reverse of <see cref="CsvRow"/>.</summary>
public static class CsvCell
{
    /// <summary>Parts the members of a list in one cell.</summary>
    public const char ListSeparator = ';';

    // "0." and enough places for 17 digits behind eight zeros.
    private const string WithoutExponent = "0.############################";

    /// <summary>A number in its shortest form that reads back the same, without an exponent; empty when missing.</summary>
    /// <remarks>Bounds: 0, or a size from 1e-9 to 1e9, which is what the table's rules allow.</remarks>
    public static string Of(double? value)
    {
        var shortest = value?.ToString("R", CultureInfo.InvariantCulture) ?? "";
        return shortest.Contains('E', StringComparison.Ordinal)
            ? decimal.Parse(shortest, NumberStyles.Float, CultureInfo.InvariantCulture)
                .ToString(WithoutExponent, CultureInfo.InvariantCulture)
            : shortest;
    }

    /// <summary>A whole number.</summary>
    public static string Of(int value) => value.ToString(CultureInfo.InvariantCulture);

    /// <summary>"yes" or "no".</summary>
    public static string Of(bool value) => value ? "yes" : "no";

    /// <summary>"yes", "no" or "unstated".</summary>
    public static string OrUnstated(bool? value) => value is { } known ? Of(known) : "unstated";

    /// <summary>Texts parted by semicolons.</summary>
    public static string Of(IReadOnlyList<string> texts) => string.Join(ListSeparator, texts);

    /// <summary>Numbers parted by semicolons.</summary>
    public static string Of(IReadOnlyList<double> numbers) =>
        string.Join(ListSeparator, numbers.Select(number => Of(number)));
}

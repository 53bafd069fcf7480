using System.Globalization;

namespace Derivid.Store.Seeding;

/// <summary>How values are written into the cells of a table file; the reverse of <see cref="CsvRow"/>.</summary>
public static class CsvCell
{
    /// <summary>Parts the members of a list in one cell.</summary>
    public const char ListSeparator = ';';

    /// <summary>A number in its shortest form that reads back the same; empty when missing.</summary>
    public static string Of(double? value) => value?.ToString("0.############", CultureInfo.InvariantCulture) ?? "";

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

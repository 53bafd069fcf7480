using System.Globalization;

namespace Derivid.Page;

/// <summary>Dates and names as a reader sees them.</summary>
public static class Shown
{
    /// <summary>A day.</summary>
    /// <param name="instant">Units: UTC.</param>
    public static string Date(DateTime instant) => Date(DateOnly.FromDateTime(instant));

    /// <summary>A day.</summary>
    /// <param name="day">The day.</param>
    public static string Date(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A moment, to the minute.</summary>
    /// <param name="instant">Units: UTC.</param>
    public static string Moment(DateTime instant) => instant.ToString("d MMMM yyyy, HH:mm", CultureInfo.InvariantCulture) + " UTC";

    /// <summary>A text with its first letter a capital.</summary>
    /// <param name="text">The text; not empty.</param>
    public static string Capital(string text)
    {
        ArgumentException.ThrowIfNullOrEmpty(text);
        return char.ToUpperInvariant(text[0]) + text[1..];
    }

    /// <summary>A name of the service's in words: "parent-constants" and "lowCelsius" become "parent constants" and "low celsius".</summary>
    /// <param name="name">A list, a member of a record or of an enumeration.</param>
    public static string Spaced(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return string.Concat(name.Select(c => c == '-' ? " " : char.IsUpper(c) ? " " + char.ToLowerInvariant(c) : c.ToString())).Trim();
    }

    /// <summary>A name of the service's as a heading: "RightCompound" becomes "Right compound".</summary>
    /// <inheritdoc cref="Spaced"/>
    public static string Heading(string name) => Capital(Spaced(name));
}

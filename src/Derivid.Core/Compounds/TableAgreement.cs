namespace Derivid.Core.Compounds;

/// <summary>Where the table's records confirm and where they contradict each other.</summary>
/// <remarks>Discordant literature is information: a clash is listed for the curators, never averaged away.</remarks>
public static class TableAgreement
{
    /// <summary>
    /// Two independent sources agree up to this gap. Units: °C, a difference. Chosen: twice the 1.3 °C that one listed
    /// value is commonly off, rounded up.
    /// </summary>
    public const double ConfirmsWithinCelsius = 3;

    /// <summary>Two records of any sources clash above this gap. Units: °C, a difference. Chosen.</summary>
    public const double ClashesAboveCelsius = 5;

    /// <summary>Whether an independent source agrees with a span.</summary>
    /// <param name="span">The span in question.</param>
    /// <param name="all">Every span of the table; <paramref name="span"/> may be among them.</param>
    public static bool IsConfirmed(PrintedSpan span, IEnumerable<PrintedSpan> all)
    {
        ArgumentNullException.ThrowIfNull(span);
        return all.Any(other => other.IsOfTheSame(span)
            && other.IsIndependentOf(span)
            && other.GapCelsius(span) <= ConfirmsWithinCelsius);
    }
}

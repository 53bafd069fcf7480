namespace Derivid.Client.Identifications;

/// <summary>The classical comparison of one range read with the nearest one listed.</summary>
/// <param name="Kind">Melting range of a derivative, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: not about a derivative.</param>
/// <param name="ListedLowCelsius">Lower end of the nearest listed range. Units: °C.</param>
/// <param name="ListedHighCelsius">Upper end of the nearest listed range. Units: °C.</param>
/// <param name="Source">Key of the source that lists it.</param>
/// <param name="DeviationCelsius">Corrected clear point less the nearest end of the listed range. Units: °C.</param>
/// <param name="IsClearPointInside">Whether the clear point is within the window.</param>
/// <param name="IsWholeRangeInside">Whether onset and clear point both are.</param>
public sealed record WindowItem(
    string Kind,
    string? Subject,
    double ListedLowCelsius,
    double ListedHighCelsius,
    string Source,
    double DeviationCelsius,
    bool IsClearPointInside,
    bool IsWholeRangeInside);

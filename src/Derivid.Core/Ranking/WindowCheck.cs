namespace Derivid.Core.Ranking;

/// <summary>The classical comparison of one range read with the nearest one listed.</summary>
/// <param name="Kind">Derivative melting range, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: null.</param>
/// <param name="ListedLowCelsius">Lower end of the nearest listed range. Units: °C.</param>
/// <param name="ListedHighCelsius">Upper end of the nearest listed range. Units: °C.</param>
/// <param name="SourceKey">The source that lists it.</param>
/// <param name="DeviationCelsius">
/// Corrected clear point less the nearest end of the listed range; 0 inside it. Units: °C, a difference.
/// </param>
/// <param name="IsClearPointInside">Whether the clear point is within the window of the listed range.</param>
/// <param name="IsWholeRangeInside">Whether onset and clear point both are: the stricter reading of the rule.</param>
public sealed record WindowCheck(
    EvidenceKind Kind,
    string? Subject,
    double ListedLowCelsius,
    double ListedHighCelsius,
    string SourceKey,
    double DeviationCelsius,
    bool IsClearPointInside,
    bool IsWholeRangeInside);

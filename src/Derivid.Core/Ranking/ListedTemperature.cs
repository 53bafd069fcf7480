using Derivid.Core.Compounds;

namespace Derivid.Core.Ranking;

/// <summary>One listed temperature range of one parent, with its weight among that parent's values.</summary>
/// <param name="LowCelsius">Lower end as listed. Units: °C.</param>
/// <param name="HighCelsius">Upper end as listed, taken as the clear point. Units: °C.</param>
/// <param name="Decomposes">Whether it is listed as decomposing.</param>
/// <param name="Verification">How far it was followed back.</param>
/// <param name="Form">Form the value is of. Missing: null, unstated.</param>
/// <param name="SourceKey">The source that lists it.</param>
/// <param name="Weight">Weight among the parent's values of the quantity; they sum to 1.</param>
public sealed record ListedTemperature(
    double LowCelsius,
    double HighCelsius,
    bool Decomposes,
    Verification Verification,
    string? Form,
    string SourceKey,
    double Weight);

namespace Derivid.Core.Ranking;

/// <summary>How far the state of an unknown on the bench tells its melting point.</summary>
public sealed record StateSettings
{
    /// <summary>
    /// Spread about room temperature within which a compound may be met either way: rooms differ, and impure or undercooled
    /// solids stay liquid. Units: °C. Bounds: above 0.
    /// </summary>
    public required double SpreadCelsius { get; init; }

    /// <summary>Probability that the state is put down wrong, or is a solution's.</summary>
    public required double MistakeShare { get; init; }
}

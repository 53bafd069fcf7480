namespace Derivid.Core.Ranking;

/// <summary>What is believed of the purity of the crystals melted.</summary>
/// <param name="ImpureShare">Probability that they were impure. Bounds: 0 to 1.</param>
/// <param name="DepressionCelsius">Mean depression of the clear point if they were. Units: °C. Bounds: above 0 where the share is.</param>
public readonly record struct Purity(double ImpureShare, double DepressionCelsius);

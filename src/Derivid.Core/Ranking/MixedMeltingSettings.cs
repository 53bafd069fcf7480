using Derivid.Core.Melting;

namespace Derivid.Core.Ranking;

/// <summary>What a mixed melting is expected to show, of the same compound and of two.</summary>
public sealed record MixedMeltingSettings
{
    /// <summary>Probability that an unchanged melting range is seen when the samples are the same.</summary>
    public required double UnchangedIfSame { get; init; }

    /// <summary>The same when they differ, as with mixed crystals or a hasty reading.</summary>
    public required double UnchangedIfDifferent { get; init; }

    /// <summary>Entropy of fusion in the middle of those thought possible. Units: J/(mol·K). Bounds: above 0.</summary>
    public required double FusionEntropy { get; init; }

    /// <summary>One standard deviation of it, as a factor up and down. Bounds: above 1.</summary>
    public required double FusionEntropyFactor { get; init; }

    /// <summary>One standard deviation of the ratio of moles in a mixture meant to be one to one, as a factor up and down. Bounds: above 1.</summary>
    public required double MoleRatioFactor { get; init; }

    /// <summary>Where a mixture of two different compounds is expected to melt, one to one and with middling entropies.</summary>
    /// <param name="oneCelsius">Melting point of one. Units: °C.</param>
    /// <param name="otherCelsius">Of the other. Units: °C.</param>
    /// <returns>The mixture.</returns>
    public ExpectedMixture Expect(double oneCelsius, double otherCelsius) => new(
        IdealEutectic.Of(At(oneCelsius, 1), At(otherCelsius, 1)).Celsius,
        HalfAndHalf(oneCelsius, otherCelsius, 1),
        HalfAndHalf(oneCelsius, otherCelsius, 1 / FusionEntropyFactor),
        HalfAndHalf(oneCelsius, otherCelsius, FusionEntropyFactor));

    private double HalfAndHalf(double one, double other, double factor) =>
        IdealEutectic.ClearPointCelsius(At(one, factor), At(other, factor), 0.5);

    private PureSolid At(double celsius, double factor) => new(celsius, FusionEntropy * factor);
}

/// <summary>Where a mixture of two different compounds is expected to melt.</summary>
/// <param name="OnsetCelsius">The eutectic. Units: °C.</param>
/// <param name="ClearPointCelsius">The clear point. Units: °C.</param>
/// <param name="LowCelsius">The clear point with entropies of fusion a standard deviation lower. Units: °C.</param>
/// <param name="HighCelsius">The same a standard deviation higher. Units: °C.</param>
public readonly record struct ExpectedMixture(
    double OnsetCelsius, double ClearPointCelsius, double LowCelsius, double HighCelsius)
{
    /// <summary>An onset nearer than this to the clear point is not worth telling. Units: °C. Chosen, as for a sharp range.</summary>
    private const double SharpSpanCelsius = 2;

    /// <summary>What is expected of it, in words.</summary>
    public override string ToString()
    {
        var clear = $"to clear at about {Figure.Text(ClearPointCelsius, decimals: 0)} °C ({Figure.Text(LowCelsius, decimals: 0)} to {Figure.Text(HighCelsius, decimals: 0)} °C)";
        return ClearPointCelsius - OnsetCelsius > SharpSpanCelsius
            ? $"to begin to melt near {Figure.Text(OnsetCelsius, decimals: 0)} °C and {clear}"
            : clear;
    }
}

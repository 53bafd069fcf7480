using Derivid.Core.Observations;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking;

/// <summary>How impurity lowers and widens a melting range.</summary>
/// <remarks>
/// A sample is either pure (no depression worth naming) or impure, when its clear point lies low by an exponential amount
/// whose mean grows with the width read. The width itself tells pure from impure. Thread safety: immutable.
/// </remarks>
public sealed record DepressionSettings
{
    /// <summary>Prior share of impure samples among recrystallised ones.</summary>
    public required double ImpureShareRecrystallised { get; init; }

    /// <summary>Prior share of impure samples where nobody said what was done.</summary>
    public required double ImpureShareUnstated { get; init; }

    /// <summary>Prior share of impure samples among crude ones.</summary>
    public required double ImpureShareCrude { get; init; }

    /// <summary>Mean width read on a pure sample. Units: °C.</summary>
    public required double PureSpanCelsius { get; init; }

    /// <summary>Mean width read on an impure sample. Units: °C.</summary>
    public required double ImpureSpanCelsius { get; init; }

    /// <summary>Mean depression of an impure sample of no width. Units: °C.</summary>
    public required double BaseCelsius { get; init; }

    /// <summary>Growth of the mean depression with the width. Units: °C per °C.</summary>
    public required double PerSpanCelsius { get; init; }

    /// <summary>Prior share of samples that were melted wet.</summary>
    public required double WetShare { get; init; }

    /// <summary>How far wet crystals melt low at the most, as a rule. Units: °C.</summary>
    public required double WetLowCelsius { get; init; }

    /// <summary>Mean width that wet crystals melt over. Units: °C.</summary>
    public required double WetSpanCelsius { get; init; }

    /// <summary>What a reading's width and preparation say of its purity.</summary>
    /// <param name="spanCelsius">Width read. Units: °C. Missing: null, one figure was given.</param>
    /// <param name="preparation">What was done to the crystals.</param>
    /// <returns>The purity to weigh the reading with.</returns>
    public Purity PurityOf(double? spanCelsius, Preparation preparation)
    {
        var share = preparation switch
        {
            Preparation.Recrystallised => ImpureShareRecrystallised,
            Preparation.Crude => ImpureShareCrude,
            _ => ImpureShareUnstated,
        };

        if (spanCelsius is not { } span)
        {
            return new Purity(share, BaseCelsius + (PerSpanCelsius * ImpureSpanCelsius), WetShare, WetLowCelsius);
        }

        // Widths: exponential when pure, a gamma of shape 2 when impure (an impure sample seldom melts sharply), a normal
        // when wet.
        var scale = ImpureSpanCelsius / 2;
        var pure = (1 - WetShare) * (1 - share) * Math.Exp(-span / PureSpanCelsius) / PureSpanCelsius;
        var impure = (1 - WetShare) * share * span * Math.Exp(-span / scale) / (scale * scale);
        var wet = WetShare * NormalDensity.At(span - WetSpanCelsius, WetSpanCelsius * WetSpreadShare);
        var all = pure + impure + wet;
        return new Purity(impure / all, BaseCelsius + (PerSpanCelsius * span), wet / all, WetLowCelsius);
    }

    /// <summary>Spread of the widths of wet crystals, as a share of their mean. Chosen.</summary>
    private const double WetSpreadShare = 0.3;
}

/// <summary>What is believed of the purity of the crystals melted, or of how low a boiling point was read.</summary>
/// <param name="ImpureShare">Probability that they were impure. Bounds: 0 to 1.</param>
/// <param name="DepressionCelsius">Mean depression of the clear point if they were. Units: °C. Bounds: above 0 where the share is.</param>
/// <param name="LowShare">Probability of an error to the low side that is anything up to <paramref name="LowCelsius"/>.</param>
/// <param name="LowCelsius">Its extent. Units: °C. Bounds: above 0 where the share is.</param>
public readonly record struct Purity(
    double ImpureShare, double DepressionCelsius, double LowShare = 0, double LowCelsius = 0);

/// <summary>How one reading may err, apart from what is listed.</summary>
/// <param name="ReadingCelsius">Standard deviation of thermometer and reader together. Units: °C. Bounds: above 0.</param>
/// <param name="Purity">What is believed of the sample.</param>
/// <param name="Decomposes">Whether it was read as one of decomposition.</param>
public readonly record struct ReadingError(double ReadingCelsius, Purity Purity, bool Decomposes = false);

using Derivid.Core.Observations;

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
            return new Purity(share, BaseCelsius + (PerSpanCelsius * ImpureSpanCelsius));
        }

        // Widths: exponential when pure, a gamma of shape 2 when impure (an impure sample seldom melts sharply).
        var pure = Math.Exp(-span / PureSpanCelsius) / PureSpanCelsius;
        var scale = ImpureSpanCelsius / 2;
        var impure = span * Math.Exp(-span / scale) / (scale * scale);
        var impureShare = share * impure / ((share * impure) + ((1 - share) * pure));
        return new Purity(impureShare, BaseCelsius + (PerSpanCelsius * span));
    }
}

/// <summary>What is believed of the purity of the crystals melted.</summary>
/// <param name="ImpureShare">Probability that they were impure. Bounds: 0 to 1.</param>
/// <param name="DepressionCelsius">Mean depression of the clear point if they were. Units: °C. Bounds: above 0 where the share is.</param>
public readonly record struct Purity(double ImpureShare, double DepressionCelsius);

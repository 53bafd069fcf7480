using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for sharp melting ranges, as read; in proportion between the two spans.</summary>
/// <remarks>
/// Share of one range: 1 up to <see cref="FullSpanCelsius"/>, 0 from <see cref="ZeroSpanCelsius"/> on, in proportion
/// between; one figure in place of a range earns <see cref="SingleFigureShare"/>. Of one derivative the recrystallised
/// range counts, else the one whose preparation is not stated, else the crude one; the sharpest of several. What of several
/// derivatives counts says <see cref="DerivativeShares"/>.
/// </remarks>
public sealed record RangeWidth : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.RangeWidth;

    /// <summary>Widest range that earns all; 2 °C is customary for pure crystals. Units: °C, a difference.</summary>
    [Range(0.0, 20.0)]
    public double FullSpanCelsius { get; init; } = 2;

    /// <summary>Narrowest range that earns nothing; more than the full one. Units: °C, a difference.</summary>
    [Range(0.01, 50.0)]
    public double ZeroSpanCelsius { get; init; } = 6;

    /// <summary>Share for one figure in place of a range.</summary>
    [Range(0.0, 1.0)]
    public double SingleFigureShare { get; init; } = 0.5;

    internal override IEnumerable<RubricFault> Faults() =>
        [.. base.Faults(), .. NotBeyond(nameof(ZeroSpanCelsius), ZeroSpanCelsius, FullSpanCelsius)];

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        DerivativeShares.Line(
            this,
            report,
            rubric,
            StudentSentences.WidthRule(FullSpanCelsius, ZeroSpanCelsius),
            (reading, _) => Of(reading.Kind.Kind.Name, reading.AsRead.SpanCelsius));

    private ShareOfKind Of(string kind, double spanCelsius)
    {
        var share = spanCelsius == 0 ? SingleFigureShare : Falling(spanCelsius, FullSpanCelsius, ZeroSpanCelsius);
        var words = StudentSentences.WidthFound(kind, spanCelsius, share);
        return new ShareOfKind(share, words, words);
    }
}

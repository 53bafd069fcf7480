namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for sharp melting ranges, as read.</summary>
/// <remarks>
/// Share of one range: 1 up to <see cref="FullSpanCelsius"/>, 0 from <see cref="ZeroSpanCelsius"/> on, in proportion
/// between; one figure in place of a range earns <see cref="SingleFigureShare"/>. Of one derivative the recrystallised
/// range counts, else the one whose preparation is not stated, else the crude one; the sharpest of several.
/// </remarks>
public sealed record RangeWidth : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.RangeWidth;

    /// <summary>Widest range that earns all. Units: °C, a difference. Bounds: 0 to 20. Default: customary 2 °C of pure crystals.</summary>
    public double FullSpanCelsius { get; init; } = 2;

    /// <summary>Narrowest range that earns nothing. Units: °C, a difference. Bounds: above the full one, to 50.</summary>
    public double ZeroSpanCelsius { get; init; } = 6;

    /// <summary>Share for a single figure. Bounds: 0 to 1.</summary>
    public double SingleFigureShare { get; init; } = 0.5;

    internal override IEnumerable<RubricFault> Faults() =>
        [
            .. PointsBetween(nameof(Points), Points),
            .. Between(nameof(FullSpanCelsius), FullSpanCelsius, 0, 20),
            .. Between(nameof(ZeroSpanCelsius), ZeroSpanCelsius, FullSpanCelsius + 0.01, 50),
            .. Between(nameof(SingleFigureShare), SingleFigureShare, 0, 1),
        ];

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        BestShares.Line(
            this,
            rubric,
            [.. report.Best.Select(reading => reading.AsRead.SpanCelsius == 0
                ? new ShareOfKind(SingleFigureShare, $"{reading.Kind.Kind.Name} one figure (share {Text(SingleFigureShare)})")
                : Of(reading.Kind.Kind.Name, reading.AsRead.SpanCelsius))],
            $"full to {Text(FullSpanCelsius)} °C, nothing from {Text(ZeroSpanCelsius)} °C",
            tellsIdentity: false);

    private ShareOfKind Of(string kind, double spanCelsius)
    {
        var share = Falling(spanCelsius, FullSpanCelsius, ZeroSpanCelsius);
        return new ShareOfKind(share, $"{kind} over {Text(spanCelsius)} °C (share {Text(share)})");
    }
}

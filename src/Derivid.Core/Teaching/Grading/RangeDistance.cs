using System.ComponentModel.DataAnnotations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// Points for clear points, after the thermometer's correction, near the range listed for the compound handed out; in
/// proportion between the two distances.
/// </summary>
/// <remarks>
/// The clear point, after the thermometer's correction, is held against the nearest range listed for the compound handed out.
/// Share of one derivative: 1 up to <see cref="FullCelsius"/> away, 0 from <see cref="ZeroCelsius"/> on, in proportion
/// between; 1 where nothing is listed, since there is nothing to hold against the student. The reading that counts is the
/// one <see cref="RangeWidth"/> names.
/// </remarks>
public sealed record RangeDistance : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.RangeDistance;

    /// <summary>Farthest that earns all. Units: °C, a difference.</summary>
    [Range(0.0, 20.0)]
    public double FullCelsius { get; init; } = 2;

    /// <summary>Nearest that earns nothing; more than the full one. Units: °C, a difference.</summary>
    [Range(0.01, 50.0)]
    public double ZeroCelsius { get; init; } = 10;

    internal override IEnumerable<RubricFault> Faults() =>
        [.. base.Faults(), .. NotBeyond(nameof(ZeroCelsius), ZeroCelsius, FullCelsius)];

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        BestShares.Line(
            this,
            rubric,
            [.. report.Best.Select(reading => Of(reading, report.Identity))],
            $"full to {Text(FullCelsius)} °C away, nothing from {Text(ZeroCelsius)} °C",
            tellsIdentity: true);

    private ShareOfKind Of(BestReading reading, int handedOut)
    {
        var name = reading.Kind.Kind.Name;
        if (reading.NearestListed(handedOut) is not { } nearest)
        {
            return new ShareOfKind(1, $"{name} has no range listed to compare with (share 1)");
        }

        var clearPoint = reading.Corrected.ClearPointCelsius;
        var deviation = ListedTemperatures.DeviationFrom(nearest, clearPoint);
        var share = Falling(Math.Abs(deviation), FullCelsius, ZeroCelsius);
        var corrected = reading.AsRead == reading.Corrected ? "" : ", corrected,";
        return new ShareOfKind(
            share,
            $"{name} clear at {Text(clearPoint)} °C{corrected} against {Figure.Range(nearest.LowCelsius, nearest.HighCelsius)} listed, {Text(Math.Abs(deviation))} °C away (share {Text(share)})");
    }
}

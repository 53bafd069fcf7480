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
/// between. What of several derivatives counts, and one of which nothing is listed, says
/// <see cref="DerivativeShares"/>. The reading that counts is the one <see cref="RangeWidth"/> names.
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
        DerivativeShares.Line(
            this,
            report,
            rubric,
            StudentSentences.DistanceRule(FullCelsius, ZeroCelsius),
            Of);

    private ShareOfKind Of(BestReading reading, ListedTemperature? nearest)
    {
        var isCorrected = reading.AsRead != reading.Corrected;
        var read = StudentSentences.ClearPoint(reading.Kind.Kind.Name, reading.Corrected.ClearPointCelsius, isCorrected);
        if (nearest is null)
        {
            return new ShareOfKind(0, read, read);
        }

        var away = reading.AwayFrom(nearest);
        var share = Falling(away, FullCelsius, ZeroCelsius);
        return new ShareOfKind(
            share,
            $"{read}{(isCorrected ? "," : "")} against {Figure.Range(nearest.LowCelsius, nearest.HighCelsius)} listed, {Text(away)} °C away (share {Text(share)})",
            read);
    }
}

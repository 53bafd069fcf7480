using System.ComponentModel.DataAnnotations;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for recrystallising, shown by a crude and a recrystallised range of one derivative.</summary>
/// <remarks>
/// Two things are asked: (a) the recrystallised range is narrower than the crude one, or no wider than
/// <see cref="SharpSpanCelsius"/>; (b) its clear point is not lower by more than <see cref="AllowedDropCelsius"/>, as
/// purer crystals melt higher. Both earn 1, one earns <see cref="OneShare"/>; without both ranges nothing is shown.
/// The sharpest of several ranges of one preparation counts, of equally sharp ones the lower. What of several derivatives
/// counts says <see cref="DerivativeShares"/>.
/// </remarks>
public sealed record Recrystallisation : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.Recrystallisation;

    /// <summary>A range this sharp needs no narrowing. Units: °C, a difference.</summary>
    [Range(0.0, 20.0)]
    public double SharpSpanCelsius { get; init; } = 2;

    /// <summary>Drop of the clear point that is put down to reading. Units: °C, a difference.</summary>
    [Range(0.0, 10.0)]
    public double AllowedDropCelsius { get; init; } = 1;

    /// <summary>Share where only narrowing or only the clear point is as it should be.</summary>
    [Range(0.0, 1.0)]
    public double OneShare { get; init; } = 0.5;

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        DerivativeShares.Line(
            this,
            report,
            rubric,
            StudentSentences.RecrystallisationRule(SharpSpanCelsius, AllowedDropCelsius),
            (reading, _) => Of(reading.Kind.Kind, report),
            nothing: StudentSentences.NoneRecrystallised());

    private ShareOfKind? Of(DerivativeKind kind, ReadReport report)
    {
        if (report.Sharpest(kind.Key, Preparation.Crude) is not { } crude
            || report.Sharpest(kind.Key, Preparation.Recrystallised) is not { } recrystallised)
        {
            return null;
        }

        var isSharper = recrystallised.SpanCelsius < crude.SpanCelsius || recrystallised.SpanCelsius <= SharpSpanCelsius;
        var drop = crude.ClearPointCelsius - recrystallised.ClearPointCelsius;
        var share = (isSharper, drop <= AllowedDropCelsius) switch
        {
            (true, true) => 1,
            (false, false) => 0,
            _ => OneShare,
        };
        var words = StudentSentences.Recrystallised(kind.Name, Range(crude), Range(recrystallised), share);
        return new ShareOfKind(share, words, words);
    }

    private static string Range(Melting.MeltingRange range) =>
        $"{Figure.Span(range.OnsetCelsius, range.ClearPointCelsius, decimals: 2)} °C";
}

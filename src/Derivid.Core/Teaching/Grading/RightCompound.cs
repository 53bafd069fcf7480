using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// Points for claiming the compound that was handed out; a share for one that the student's own evidence cannot tell from it.
/// </summary>
/// <remarks>
/// Full for the compound itself. A share for another one if the student's own evidence cannot tell the two apart: the
/// ranking of it puts both in one of its <see cref="Ranking.CandidateGroups"/>, of <see cref="LargestGroup"/> at most.
/// </remarks>
public sealed record RightCompound : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.RightCompound;

    /// <summary>Share for a compound that the evidence cannot tell from the right one.</summary>
    [Range(0.0, 1.0)]
    public double GroupShare { get; init; } = 0.5;

    /// <summary>Largest set that earns the share. Vague evidence fits many, and earns nothing.</summary>
    [Range(2, 20)]
    public int LargestGroup { get; init; } = 4;

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        if (report.Claim is not { } claim)
        {
            return Line(0, StudentSentences.NoCompoundClaimed(), rubric, tellsIdentity: false);
        }

        // The rubric's step can round a part up to all, and then all tells less.
        string Told(double share) => StudentSentences.Named(
            report.NameOf(claim), PointsFor(share, rubric), PointsFor(GroupShare, rubric), PointsFor(1, rubric));
        var (claimed, handedOut) = (report.NameOf(claim), report.NameOf(report.Identity));
        if (claim == report.Identity)
        {
            return Line(1, $"The compound claimed, {claimed}, is the one handed out.", rubric, tellsIdentity: true, Told(1));
        }

        var group = report.AlikeToIdentity;
        return group.Contains(claim) && group.Count <= LargestGroup
            ? Line(
                GroupShare,
                $"The compound claimed is {claimed}, the one handed out {handedOut}; the student's own evidence cannot tell the two apart (a set of {group.Count}), which earns a share of {Text(GroupShare)}.",
                rubric,
                tellsIdentity: true,
                Told(GroupShare))
            : Line(
                0,
                $"The compound claimed is {claimed}, the one handed out {handedOut}, and the student's own evidence does not leave the two alone together.",
                rubric,
                tellsIdentity: true,
                Told(0));
    }
}

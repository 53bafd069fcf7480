using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for a claim that the student's own evidence bears out, whether it is right or wrong.</summary>
/// <remarks>
/// Readings are easily made up around a claim. So of the report's ranges and tests, as far as the course offers them, those are
/// left out that could not be of the compound handed out: a range farther than <see cref="Rubric.FarthestCelsius"/> from those
/// listed for it, a test that turned out otherwise than expected. The engine weighs what is left against the shelf, and the share
/// is multiplied by the part of the ranges that is left. The first line that applies gives the share:
/// (1) the claim's probability is <see cref="FullPosterior"/> or more: 1;
/// (2) the claim is in the leader's one of the <see cref="Ranking.CandidateGroups"/>, of <see cref="LargestGroup"/> at most:
/// <see cref="GroupShare"/>;
/// (3) its rank is <see cref="RunnerUpRank"/> or better and its probability <see cref="RunnerUpPosterior"/> or more:
/// <see cref="RunnerUpShare"/>;
/// (4) else nothing. A report without evidence earns nothing.
/// </remarks>
public sealed record SupportedClaim : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.SupportedClaim;

    /// <summary>Probability that earns all.</summary>
    [Range(0.0, 1.0)]
    public double FullPosterior { get; init; } = 0.8;

    /// <summary>Share for a claim in the leading set.</summary>
    [Range(0.0, 1.0)]
    public double GroupShare { get; init; } = 0.75;

    /// <summary>Largest leading set that counts; a leader by itself is a set of one.</summary>
    [Range(1, 20)]
    public int LargestGroup { get; init; } = 4;

    /// <summary>Worst rank that still earns a share.</summary>
    [Range(1, 50)]
    public int RunnerUpRank { get; init; } = 3;

    /// <summary>Least probability that still earns a share.</summary>
    [Range(0.0, 1.0)]
    public double RunnerUpPosterior { get; init; } = 0.05;

    /// <summary>Share for such a runner-up.</summary>
    [Range(0.0, 1.0)]
    public double RunnerUpShare { get; init; } = 0.4;

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        if (report.Claim is not { } claim)
        {
            return Line(0, StudentSentences.NoCompoundClaimed(), rubric, tellsIdentity: false);
        }

        var (ranges, far) = (report.Ranges, report.FarOff);
        if (!report.HasEvidence)
        {
            return Told(0, StudentSentences.NoEvidence(Part()));
        }

        var (posterior, rank, leading) = (report.Posterior(claim), report.RankOf(claim), report.GroupOf(report.Leader));
        var isLeading = leading.Contains(claim) && leading.Count <= LargestGroup;
        var isRunnerUp = rank <= RunnerUpRank && posterior >= RunnerUpPosterior;
        var (share, rule) = posterior >= FullPosterior ? (1, StudentSentences.EarnsAll(FullPosterior))
            : isLeading && leading.Count == 1 ? (GroupShare, StudentSentences.LeadsAlone(FullPosterior))
            : isLeading ? (GroupShare, StudentSentences.LeadsInSet(leading.Count))
            : isRunnerUp ? (RunnerUpShare, StudentSentences.RunsUp(RunnerUpRank, RunnerUpPosterior))
            : (0, StudentSentences.FallsBehind(RunnerUpRank, RunnerUpPosterior));
        return Told(
            share,
            StudentSentences.ClaimOnEvidence(Part(), report.NameOf(claim), rank, posterior, rule, share));

        string Part() => far == 0 ? "" : $"{far} of {Figure.Count(ranges, "range")} could not be of the compound handed out";

        GradeLine Told(double share, string sentence)
        {
            var part = ranges == 0 ? 1 : (double)(ranges - far) / ranges;
            var times = far > 0 && share > 0 ? $" Times {ranges - far} of {Figure.Count(ranges, "range")}." : "";
            return Line(
                share * part,
                sentence + times,
                rubric,
                tellsIdentity: ranges > 0 || report.TestOutcomes.Count > 0,
                StudentSentences.EvidenceBearsOut(
                    report.NameOf(claim),
                    StudentSentences.EarnsAll(FullPosterior),
                    [StudentSentences.EarnsInSet(LargestGroup, GroupShare), StudentSentences.EarnsBehind(RunnerUpRank, RunnerUpPosterior, RunnerUpShare)],
                    rubric.FarthestCelsius));
        }
    }
}

using System.ComponentModel.DataAnnotations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for a claim that the student's own evidence bears out, whether it is right or wrong.</summary>
/// <remarks>
/// The engine weighs the report against the shelf. The first line that applies gives the share:
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
            return Line(0, "No compound is claimed.", rubric, tellsIdentity: false);
        }

        if (!report.HasEvidence)
        {
            return Line(0, "The report holds no evidence, so nothing bears the claim out.", rubric, tellsIdentity: false);
        }

        var (posterior, rank, leading) = (report.Posterior(claim), report.RankOf(claim), report.GroupOf(report.Leader));
        var isLeading = leading.Contains(claim) && leading.Count <= LargestGroup;
        var isRunnerUp = rank <= RunnerUpRank && posterior >= RunnerUpPosterior;
        var (share, rule) = posterior >= FullPosterior ? (1, $"{Text(FullPosterior)} or more earns all")
            : isLeading && leading.Count == 1 ? (GroupShare, $"it leads alone, short of {Text(FullPosterior)}")
            : isLeading ? (GroupShare, $"the evidence leaves it in a leading set of {leading.Count}")
            : isRunnerUp
                ? (RunnerUpShare, $"rank {RunnerUpRank} or better with {Text(RunnerUpPosterior)} or more earns a share")
            : (0, $"less than {Text(RunnerUpPosterior)}, or behind rank {RunnerUpRank}, earns nothing");
        return Line(
            share,
            $"On the student's own evidence {report.NameOf(claim)} has rank {rank} and probability {Text(posterior)}: {rule} (share {Text(share)}).",
            rubric,
            tellsIdentity: false);
    }
}

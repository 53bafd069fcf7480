namespace Derivid.Core.Ranking;

/// <summary>Which candidates cannot be told apart: what the words mean in a ranking and in a grade; the check of a shelf names them.</summary>
/// <remarks>
/// Going down the ranking, a candidate that is in no group yet leads one; with it go all others in no group yet whose log
/// likelihood ratio differs from the leader's by less than <see cref="ModelSettings.GroupLogRatio"/>, by which evidence is
/// barely worth mentioning. Only candidates of <see cref="LeastProbability"/> or more are in a group, each in exactly one,
/// alone or with others; an observation that holds no evidence makes no groups.
/// It is measured by the evidence, not by the probability: what was thought beforehand separates no two samples.
/// The groups part the candidates because that is how a list of possibilities is read and worked through at the bench: the
/// best, what fits as well as the best, then the next best of the rest. "Differs by less than the limit from this one"
/// would give every candidate a set of its own, sets that overlap without being equal, so a ranking could not list them and
/// a grade would forgive a confusion that the ranking shown to the student does not know. The price: of two neighbours on
/// either side of a border each stands with its own leader, though they are nearer to each other.
/// Thread safety: immutable.
/// </remarks>
public sealed class CandidateGroups
{
    /// <summary>Candidates below this probability are in no group. Chosen.</summary>
    public const double LeastProbability = 0.01;

    // More cannot have that probability together.
    private const int Most = (int)(1 / LeastProbability);

    private CandidateGroups(IReadOnlyList<IReadOnlyList<int>> all) => All = all;

    /// <summary>
    /// Every group, by the rank of its leader. Shape: indices of parents in the snapshot, in order of rank; one or more a group.
    /// </summary>
    public IReadOnlyList<IReadOnlyList<int>> All { get; }

    /// <summary>The group of a parent, itself included.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    /// <returns>Shape: indices in order of rank; empty if the parent is in no group.</returns>
    public IReadOnlyList<int> Of(int parent) => All.FirstOrDefault(group => group.Contains(parent)) ?? [];

    internal static CandidateGroups Of(Posterior posterior, double limit)
    {
        var groups = new List<IReadOnlyList<int>>();
        List<int> waiting = posterior.HoldsEvidence
            ? [.. posterior.First(Most).ToArray().Where(parent => posterior.Probability[parent] >= LeastProbability)]
            : [];
        while (waiting.Count > 0)
        {
            var leader = posterior.LogRatio(waiting[0]);
            List<int> group = [.. waiting.Where(parent => Math.Abs(leader - posterior.LogRatio(parent)) < limit)];
            waiting = [.. waiting.Except(group)];
            groups.Add(group);
        }

        return new CandidateGroups(groups);
    }
}

/// <summary>Candidates that the evidence given cannot tell apart, as a ranking shows them; see <see cref="CandidateGroups"/>.</summary>
/// <param name="ParentKeys">Shape: two or more, in order of rank.</param>
/// <param name="Posterior">Their probabilities added up.</param>
/// <param name="SeparatedBy">The step expected to separate them best. Missing: null, nothing in the table does.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record CandidateGroup(
    IReadOnlyList<string> ParentKeys,
    double Posterior,
    NextStep? SeparatedBy,
    string Sentence);

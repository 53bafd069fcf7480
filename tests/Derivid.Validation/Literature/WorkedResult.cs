using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Validation.Literature;

/// <summary>How a worked identification went.</summary>
/// <param name="Case">The case.</param>
/// <param name="Rank">Rank of the right parent.</param>
/// <param name="Posterior">Its probability.</param>
/// <param name="Leader">The parent ranked first.</param>
/// <param name="IsInLeadingGroup">Whether it is first, or in the leading group that the evidence cannot separate.</param>
public sealed record WorkedResult(
    WorkedIdentification Case, int Rank, double Posterior, string Leader, bool IsInLeadingGroup)
{
    /// <summary>Ranks every case against the table without its source's family.</summary>
    public static IReadOnlyList<WorkedResult> Run(
        ReferenceTable table, ModelSettings settings, IReadOnlyList<WorkedIdentification> cases)
    {
        var engines = cases
            .Select(one => one.LeftOutFamily ?? "")
            .Distinct()
            .ToDictionary(
                family => family,
                family => new IdentificationEngine(TableSnapshot.Build(
                    family.Length == 0 ? table : ReducedTable.Without(table, family.Split(';')), settings)),
                StringComparer.Ordinal);
        return [.. cases.Select(one => Run(one, engines[one.LeftOutFamily ?? ""]))];
    }

    private static WorkedResult Run(WorkedIdentification one, IdentificationEngine engine)
    {
        var identification = engine.Identify(one.Observation, int.MaxValue);
        var own = identification.Candidates.First(candidate => candidate.Parent.Key == one.ParentKey);
        var leader = identification.Candidates[0].Parent.Key;
        var group = identification.Groups.FirstOrDefault(of => of.ParentKeys[0] == leader);
        return new WorkedResult(
            one,
            own.Rank,
            own.Posterior,
            leader,
            own.Rank == 1 || group?.ParentKeys.Contains(one.ParentKey) == true);
    }
}

namespace Derivid.Contracts;

/// <summary>The ranked answer to one observation without its reasons.</summary>
/// <remarks>Figures are those of the identification of the same observation. Probabilities run from 0 to 1.</remarks>
public sealed record RankingReply
{
    /// <summary>Version of the reference table used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the ranking model used.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The leading candidates, highest posterior first; as many as maximumCandidates.</summary>
    public required IReadOnlyList<RankedParent> Candidates { get; init; }

    /// <summary>How many parents were considered; those not listed have lower posteriors.</summary>
    public required int CandidatesConsidered { get; init; }

    /// <summary>The alternative that it is none of the parents considered.</summary>
    public required NoneRanked NoneOfThese { get; init; }

    /// <summary>Sets of candidates the evidence cannot tell apart, leading one first.</summary>
    public required IReadOnlyList<GroupRanked> Groups { get; init; }
}

/// <summary>A parent in the running.</summary>
/// <param name="Key">Its key; more at /api/v1/parents/{key}.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Posterior">Probability after all evidence.</param>
public sealed record RankedParent(string Key, string Name, double Posterior);

/// <summary>The alternative that it is none of the parents considered.</summary>
/// <param name="Posterior">Probability after all evidence.</param>
/// <param name="Leads">Whether it is likelier than every candidate and every group of candidates: when the answer is "none of these".</param>
public sealed record NoneRanked(double Posterior, bool Leads);

/// <summary>Candidates that the evidence given cannot tell apart.</summary>
/// <param name="ParentKeys">Two or more, in order of rank.</param>
/// <param name="Posterior">Their probabilities added up.</param>
public sealed record GroupRanked(IReadOnlyList<string> ParentKeys, double Posterior);

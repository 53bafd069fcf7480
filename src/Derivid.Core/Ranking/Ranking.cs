using Derivid.Core.Compounds;

namespace Derivid.Core.Ranking;

/// <summary>The ranked answer to one observation without its reasons, for callers that only count.</summary>
/// <remarks>Places, probabilities and groups are those of the <see cref="Identification"/> of the same observation, to the last bit.</remarks>
public sealed record Ranking
{
    /// <summary>Version of the reference table used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the model and its settings.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>Number of parents considered: those with any prior probability.</summary>
    public required int CandidatesConsidered { get; init; }

    /// <summary>Shape: as many as asked for, highest posterior first, ties by parent key.</summary>
    public required IReadOnlyList<(Parent Parent, double Posterior)> Candidates { get; init; }

    /// <summary>Probability of "none of these".</summary>
    public required double NonePosterior { get; init; }

    /// <summary>Whether it is likelier than every candidate and every group.</summary>
    public required bool NoneLeads { get; init; }

    /// <summary>Sets the evidence cannot separate, leading one first. Shape: two or more parents each; may be empty.</summary>
    public required IReadOnlyList<(IReadOnlyList<Parent> Parents, double Posterior)> Groups { get; init; }
}

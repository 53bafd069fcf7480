namespace Derivid.Client.Identifications;

/// <summary>A parent in the running, with all that speaks for and against it.</summary>
public sealed record CandidateItem
{
    /// <summary>Place in the ranking, from 1.</summary>
    public required int Rank { get; init; }

    /// <summary>The compound.</summary>
    public required CandidateParent Parent { get; init; }

    /// <summary>Probability before all evidence.</summary>
    public required double Prior { get; init; }

    /// <summary>Probability after all evidence.</summary>
    public required double Posterior { get; init; }

    /// <summary>Sum over the pieces of evidence; above zero speaks for the candidate.</summary>
    public required double LogLikelihoodRatio { get; init; }

    /// <summary>The pieces of evidence.</summary>
    public required IReadOnlyList<EvidenceItem> Evidence { get; init; }

    /// <summary>The classical comparisons with the nearest listed range.</summary>
    public required IReadOnlyList<WindowItem> Windows { get; init; }

    /// <summary>Remarks on this candidate.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }
}

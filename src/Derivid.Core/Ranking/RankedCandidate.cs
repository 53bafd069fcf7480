using Derivid.Core.Compounds;

namespace Derivid.Core.Ranking;

/// <summary>A parent still in the running, with all that speaks for and against it.</summary>
public sealed record RankedCandidate
{
    /// <summary>Place in the ranking, from 1.</summary>
    public required int Rank { get; init; }

    /// <summary>The compound.</summary>
    public required Parent Parent { get; init; }

    /// <summary>Probability before all evidence.</summary>
    public required double Prior { get; init; }

    /// <summary>Probability after all evidence.</summary>
    public required double Posterior { get; init; }

    /// <summary>Sum over the pieces of evidence, natural logarithm.</summary>
    public required double LogLikelihoodRatio { get; init; }

    /// <summary>The pieces of evidence. Shape: one a piece observed, derivatives first, each in order of its key.</summary>
    public required IReadOnlyList<Evidence> Evidence { get; init; }

    /// <summary>The classical window comparisons. Shape: one a range read for which the candidate has a listed value.</summary>
    public required IReadOnlyList<WindowCheck> Windows { get; init; }

    /// <summary>Remarks on this candidate, such as a derivative it does not form. Shape: may be empty.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];
}

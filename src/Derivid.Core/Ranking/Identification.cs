namespace Derivid.Core.Ranking;

/// <summary>The ranked, explained answer to one observation.</summary>
/// <remarks>The same observation, table version and settings give the same identification to the last bit.</remarks>
public sealed record Identification
{
    /// <summary>Version of the reference table used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the model and its settings.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The answer in two or three sentences.</summary>
    public required string Summary { get; init; }

    /// <summary>Number of parents considered: those with any prior probability.</summary>
    public required int CandidatesConsidered { get; init; }

    /// <summary>
    /// Shape: as many as asked for, highest posterior first, ties by parent key. Over all parents considered, posteriors
    /// and that of <see cref="NoneOfThese"/> sum to 1 within 1e-12.
    /// </summary>
    public required IReadOnlyList<RankedCandidate> Candidates { get; init; }

    /// <summary>The alternative that it is none of them; always present.</summary>
    public required NoneOfThese NoneOfThese { get; init; }

    /// <summary>Sets the evidence cannot separate, leading one first. Shape: may be empty.</summary>
    public required IReadOnlyList<CandidateGroup> Groups { get; init; }

    /// <summary>What to do next, most informative first. Shape: may be empty.</summary>
    public required IReadOnlyList<NextStep> NextSteps { get; init; }

    /// <summary>Temperatures as read and as used, in the order of the evidence.</summary>
    public required IReadOnlyList<CorrectedReading> Readings { get; init; }

    /// <summary>Contradictions and weaknesses seen in the observation itself. Shape: may be empty.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The usual cautions for the work observed and proposed. Shape: no repeats.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }
}

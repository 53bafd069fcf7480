namespace Derivid.Client.Identifications;

/// <summary>The ranked, explained answer to one observation.</summary>
/// <remarks>Probabilities run from 0 to 1; logarithms are natural; numbers carry nine significant digits.</remarks>
public sealed record IdentificationResponse
{
    /// <summary>Named by its content: the same question to the same table and model has the same id.</summary>
    public required string Id { get; init; }

    /// <summary>Version of the reference table used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the ranking model used.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The answer in two or three sentences.</summary>
    public required string Summary { get; init; }

    /// <summary>The leading candidates, highest posterior first.</summary>
    public required IReadOnlyList<CandidateItem> Candidates { get; init; }

    /// <summary>How many parents were considered; those not listed have lower posteriors.</summary>
    public required int CandidatesConsidered { get; init; }

    /// <summary>The alternative that it is none of the parents considered.</summary>
    public required NoneOfTheseItem NoneOfThese { get; init; }

    /// <summary>Sets of candidates the evidence cannot tell apart, leading one first.</summary>
    public required IReadOnlyList<GroupItem> Groups { get; init; }

    /// <summary>What to do next, most informative first.</summary>
    public required IReadOnlyList<NextStepItem> NextSteps { get; init; }

    /// <summary>Temperatures as read and as used after correction.</summary>
    public required IReadOnlyList<ReadingItem> Readings { get; init; }

    /// <summary>Contradictions and weaknesses seen in the observation itself.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The usual cautions; local rules come first.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }
}

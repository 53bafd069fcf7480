using Derivid.Core.Ranking;

namespace Derivid.Contracts;

// Evidence, comparisons, groups and next steps go over the wire as the ranking makes them.

/// <summary>The ranked, explained answer to one observation.</summary>
/// <remarks>Probabilities run from 0 to 1; logarithms are natural; numbers carry nine significant digits.</remarks>
public sealed record IdentificationReply
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
    public required NoneOfThese NoneOfThese { get; init; }

    /// <summary>Sets of candidates the evidence cannot tell apart, leading one first.</summary>
    public required IReadOnlyList<CandidateGroup> Groups { get; init; }

    /// <summary>What to do next, most information a minute first, a class of hazard counting as minutes too.</summary>
    public required IReadOnlyList<NextStep> NextSteps { get; init; }

    /// <summary>Temperatures as read and as used after correction.</summary>
    public required IReadOnlyList<ReadingItem> Readings { get; init; }

    /// <summary>Contradictions and weaknesses seen in the observation itself.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The usual cautions; local rules come first.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }
}

/// <summary>A parent in the running, with all that speaks for and against it.</summary>
public sealed record CandidateItem
{
    /// <summary>Place in the ranking, from 1.</summary>
    public required int Rank { get; init; }

    /// <summary>The compound.</summary>
    public required CandidateParent Parent { get; init; }

    /// <summary>Probability before all evidence.</summary>
    public required double Prior { get; init; }

    /// <summary>
    /// What the prior rests on: how common the compound is, and what that counted for. Missing: an answer of a model before 4.
    /// </summary>
    public string? HowCommon { get; init; }

    /// <summary>Probability after all evidence.</summary>
    public required double Posterior { get; init; }

    /// <summary>Sum over the pieces of evidence; above zero speaks for the candidate.</summary>
    public required double LogLikelihoodRatio { get; init; }

    /// <summary>The pieces of evidence.</summary>
    public required IReadOnlyList<Evidence> Evidence { get; init; }

    /// <summary>The classical comparisons with the nearest listed range.</summary>
    public required IReadOnlyList<WindowCheck> Windows { get; init; }

    /// <summary>Remarks on this candidate.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }
}

/// <summary>A parent as a ranking names it.</summary>
/// <param name="Key">Its key; more at /api/v1/parents/{key}.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number. Missing: nobody has looked it up.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
public sealed record CandidateParent(string Key, string Name, string? CasNumber, string Formula, string Smiles);

/// <summary>One temperature range as read and as used.</summary>
/// <param name="Kind">Melting range of a derivative, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: not about a derivative.</param>
/// <param name="AsRead">The range as read, in °C.</param>
/// <param name="AsUsed">After thermometer, stem and pressure corrections.</param>
/// <param name="ThermometerErrorCelsius">
/// How far the thermometer may still be out there, one standard deviation: least near a standard melted lately. Units: °C.
/// </param>
public sealed record ReadingItem(
    EvidenceKind Kind, string? Subject, RangeItem AsRead, RangeItem AsUsed, double ThermometerErrorCelsius);

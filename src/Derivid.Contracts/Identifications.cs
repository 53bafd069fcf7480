using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Contracts;

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

    /// <summary>What to do next, most information a minute first, a class of hazard counting as minutes too.</summary>
    public required IReadOnlyList<NextStepItem> NextSteps { get; init; }

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

    /// <summary>What the prior rests on: how common the compound is, and what that counted for.</summary>
    public required string HowCommon { get; init; }

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

/// <summary>A parent as a ranking names it.</summary>
/// <param name="Key">Its key; more at /api/v1/parents/{key}.</param>
/// <param name="Name">The name shown.</param>
/// <param name="CasNumber">CAS Registry Number.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="Smiles">Structure in the OpenSMILES notation.</param>
public sealed record CandidateParent(string Key, string Name, string CasNumber, string Formula, string Smiles);

/// <summary>One observation weighed against one candidate.</summary>
/// <param name="Kind">What sort of observation it is.</param>
/// <param name="Subject">The derivative kind or spot-test question it is about. Missing: there is only one.</param>
/// <param name="LogLikelihoodRatio">
/// Natural logarithm of P(observation given candidate) / P(observation given a parent drawn at random).
/// </param>
/// <param name="Sentence">The same in words.</param>
/// <param name="Sources">Keys of the sources it rests on; see /api/v1/sources.</param>
public sealed record EvidenceItem(
    EvidenceKind Kind, string? Subject, double LogLikelihoodRatio, string Sentence, IReadOnlyList<string> Sources);

/// <summary>The classical comparison of one range read with the nearest one listed.</summary>
/// <param name="Kind">Melting range of a derivative, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: not about a derivative.</param>
/// <param name="ListedLowCelsius">Lower end of the nearest listed range. Units: °C.</param>
/// <param name="ListedHighCelsius">Upper end of the nearest listed range. Units: °C.</param>
/// <param name="Source">Key of the source that lists it.</param>
/// <param name="DeviationCelsius">Corrected clear point less the nearest end of the listed range. Units: °C.</param>
/// <param name="IsClearPointInside">Whether the clear point is within the window.</param>
/// <param name="IsWholeRangeInside">Whether onset and clear point both are.</param>
public sealed record WindowItem(
    EvidenceKind Kind,
    string? Subject,
    double ListedLowCelsius,
    double ListedHighCelsius,
    string Source,
    double DeviationCelsius,
    bool IsClearPointInside,
    bool IsWholeRangeInside);

/// <summary>The alternative that the compound is not among those considered.</summary>
/// <param name="Prior">Probability before all evidence.</param>
/// <param name="Posterior">Probability after all evidence.</param>
/// <param name="LogLikelihoodRatio">Natural logarithm, on the candidates' scale.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record NoneOfTheseItem(double Prior, double Posterior, double LogLikelihoodRatio, string Sentence);

/// <summary>Candidates the evidence cannot tell apart.</summary>
/// <param name="Parents">Their keys, in order of rank.</param>
/// <param name="Posterior">Their probabilities added up.</param>
/// <param name="SeparatedBy">The step expected to separate them best. Missing: nothing in the table does.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record GroupItem(
    IReadOnlyList<string> Parents, double Posterior, NextStepItem? SeparatedBy, string Sentence);

/// <summary>Something worth doing next.</summary>
/// <param name="Kind">What sort of work it is.</param>
/// <param name="Key">The derivative kind or spot test. Missing: the kind says it all.</param>
/// <param name="Name">The name shown.</param>
/// <param name="ExpectedInformation">Expected fall of the entropy of the posterior. Units: nats.</param>
/// <param name="Minutes">Rough time. Units: min.</param>
/// <param name="Hazard">Rough hazard class; it replaces no risk assessment.</param>
/// <param name="Sentence">What it would show, in words.</param>
/// <param name="Cautions">The usual cautions. Missing: none of its own.</param>
public sealed record NextStepItem(
    NextStepKind Kind,
    string? Key,
    string Name,
    double ExpectedInformation,
    double Minutes,
    Hazard Hazard,
    string Sentence,
    string? Cautions);

/// <summary>One temperature range as read and as used.</summary>
/// <param name="Kind">Melting range of a derivative, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: not about a derivative.</param>
/// <param name="AsRead">The range as read, in °C.</param>
/// <param name="AsUsed">After thermometer, stem and pressure corrections.</param>
public sealed record ReadingItem(EvidenceKind Kind, string? Subject, RangeItem AsRead, RangeItem AsUsed);

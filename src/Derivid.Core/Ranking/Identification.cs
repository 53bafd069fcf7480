using Derivid.Core.Compounds;
using Derivid.Core.Melting;

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

    /// <summary>What to do next, most information a minute first, hazard counted. Shape: may be empty.</summary>
    public required IReadOnlyList<NextStep> NextSteps { get; init; }

    /// <summary>Temperatures as read and as used, in the order of the evidence.</summary>
    public required IReadOnlyList<CorrectedReading> Readings { get; init; }

    /// <summary>Contradictions and weaknesses seen in the observation itself. Shape: may be empty.</summary>
    public required IReadOnlyList<string> Warnings { get; init; }

    /// <summary>The usual cautions for the work observed and proposed. Shape: no repeats.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }
}

/// <summary>A parent still in the running, with all that speaks for and against it.</summary>
public sealed record RankedCandidate
{
    /// <summary>Place in the ranking, from 1.</summary>
    public required int Rank { get; init; }

    /// <summary>The compound.</summary>
    public required Parent Parent { get; init; }

    /// <summary>Probability before all evidence.</summary>
    public required double Prior { get; init; }

    /// <summary>What the prior rests on, one line: how common the compound is, and what that counted for.</summary>
    public required string HowCommon { get; init; }

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

/// <summary>The alternative that the compound is not among those considered.</summary>
/// <param name="Prior">Probability before all evidence.</param>
/// <param name="Posterior">Probability after all evidence.</param>
/// <param name="LogLikelihoodRatio">Natural logarithm, on the candidates' scale.</param>
/// <param name="Sentence">The same in words.</param>
/// <param name="Leads">
/// Whether it is likelier than every candidate and every group of candidates that the evidence cannot tell apart: the one
/// rule of when the answer is "none of these".
/// </param>
public sealed record NoneOfThese(double Prior, double Posterior, double LogLikelihoodRatio, string Sentence, bool Leads);

/// <summary>One temperature range as read and as used.</summary>
/// <param name="Kind">Derivative melting range, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: null.</param>
/// <param name="AsRead">The range as read.</param>
/// <param name="AsUsed">After thermometer, stem and pressure corrections.</param>
/// <param name="ThermometerCelsius">How far the thermometer may be out after its correction, one standard deviation. Units: °C.</param>
public sealed record CorrectedReading(
    EvidenceKind Kind, string? Subject, MeltingRange AsRead, MeltingRange AsUsed, double ThermometerCelsius);

/// <summary>The classical comparison of one range read with the nearest one listed.</summary>
/// <param name="Kind">Derivative melting range, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: null.</param>
/// <param name="ListedLowCelsius">Lower end of the nearest listed range. Units: °C.</param>
/// <param name="ListedHighCelsius">Upper end of the nearest listed range. Units: °C.</param>
/// <param name="SourceKey">The source that lists it.</param>
/// <param name="DeviationCelsius">
/// Corrected clear point less the nearest end of the listed range; 0 inside it. Units: °C, a difference.
/// </param>
/// <param name="IsClearPointInside">Whether the clear point is within the window of the listed range.</param>
/// <param name="IsWholeRangeInside">Whether onset and clear point both are: the stricter reading of the rule.</param>
public sealed record WindowCheck(
    EvidenceKind Kind,
    string? Subject,
    double ListedLowCelsius,
    double ListedHighCelsius,
    string SourceKey,
    double DeviationCelsius,
    bool IsClearPointInside,
    bool IsWholeRangeInside);

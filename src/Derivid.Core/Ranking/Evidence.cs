namespace Derivid.Core.Ranking;

/// <summary>One observation weighed against one candidate.</summary>
/// <param name="Kind">What sort of observation it is.</param>
/// <param name="Subject">The derivative kind or spot-test question it is about. Missing: null where there is only one.</param>
/// <param name="LogLikelihoodRatio">
/// Natural logarithm of P(observation given candidate) / P(observation given a parent drawn at random from the
/// table). Zero: says nothing. Above zero: speaks for the candidate.
/// </param>
/// <param name="Sentence">The same in words.</param>
/// <param name="SourceKeys">Sources of the values it rests on. Shape: may be empty, no repeats.</param>
public sealed record Evidence(
    EvidenceKind Kind,
    string? Subject,
    double LogLikelihoodRatio,
    string Sentence,
    IReadOnlyList<string> SourceKeys);

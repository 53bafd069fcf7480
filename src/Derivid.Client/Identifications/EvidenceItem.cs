namespace Derivid.Client.Identifications;

/// <summary>One observation weighed against one candidate.</summary>
/// <param name="Kind">What sort of observation it is.</param>
/// <param name="Subject">The derivative kind or spot-test question it is about. Missing: there is only one.</param>
/// <param name="LogLikelihoodRatio">
/// Natural logarithm of P(observation given candidate) / P(observation given a parent drawn at random).
/// </param>
/// <param name="Sentence">The same in words.</param>
/// <param name="Sources">Keys of the sources it rests on; see /api/v1/sources.</param>
public sealed record EvidenceItem(
    string Kind, string? Subject, double LogLikelihoodRatio, string Sentence, IReadOnlyList<string> Sources);

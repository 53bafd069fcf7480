namespace Derivid.Client.Identifications;

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
    string Kind,
    string? Key,
    string Name,
    double ExpectedInformation,
    double Minutes,
    string Hazard,
    string Sentence,
    string? Cautions);

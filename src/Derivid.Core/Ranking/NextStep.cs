using Derivid.Core.Compounds;

namespace Derivid.Core.Ranking;

/// <summary>Something worth doing next.</summary>
/// <param name="Kind">What sort of work it is.</param>
/// <param name="Key">The derivative kind or spot test. Missing: null where the kind says it all.</param>
/// <param name="Name">The name shown.</param>
/// <param name="ExpectedInformation">Expected fall of the entropy of the posterior. Units: nats. Bounds: 0 up.</param>
/// <param name="Minutes">Rough time. Units: min.</param>
/// <param name="Hazard">Rough hazard class.</param>
/// <param name="Sentence">What it would show, in words.</param>
/// <param name="Cautions">The usual cautions. Missing: null.</param>
public sealed record NextStep(
    NextStepKind Kind,
    string? Key,
    string Name,
    double ExpectedInformation,
    double Minutes,
    Hazard Hazard,
    string Sentence,
    string? Cautions);

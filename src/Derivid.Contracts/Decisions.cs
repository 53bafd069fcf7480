using System.ComponentModel.DataAnnotations;
using Derivid.Core.Observations;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;

namespace Derivid.Contracts;

// What is answered are decision sheets and forecasts of steps as Core writes them.

/// <summary>The compounds that an unknown may be, and what the laboratory has to tell them apart.</summary>
public sealed record DecisionRequest
{
    /// <summary>Version of the reference table. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>The compounds on the shelf, each equally likely: keys, names, listed synonyms or CAS numbers.</summary>
    [MinLength(DecisionOrder.FewestParents)]
    [MaxLength(DecisionOrder.MostParents)]
    public required IReadOnlyList<string> ShelfList { get; init; }

    /// <summary>The kinds of derivative that can be made: keys, names or synonyms. Missing: all of the table.</summary>
    [MaxLength(40)]
    public IReadOnlyList<string>? DerivativeKinds { get; init; }

    /// <summary>The spot tests that can be run: keys, names or synonyms. Missing: all of the table.</summary>
    [MaxLength(40)]
    public IReadOnlyList<string>? SpotTests { get; init; }

    /// <summary>Whether the boiling range of a liquid and the melting range of a solid can be taken. Missing: true.</summary>
    public bool? TakesConstants { get; init; }

    /// <summary>What a class of hazard counts for, as minutes of work. Units: min. Missing: 10; 0 counts minutes alone.</summary>
    [Range(0.0, Observation.MostHazardMinutes)]
    public double? HazardMinutes { get; init; }

    /// <summary>Probability that it is none of them, beforehand. Missing: the model's own.</summary>
    [Range(0.0, PriorChoice.MostNoneOfThese)]
    public double? NoneOfThese { get; init; }

    /// <summary>Probability at which a compound is named. Missing: 0.95.</summary>
    [Range(DecisionOrder.LeastCertainty, DecisionOrder.MostCertainty)]
    public double? Certainty { get; init; }
}

/// <summary>A step not yet taken on an unknown of which something has been seen.</summary>
public sealed record ForecastRequest
{
    /// <summary>What was seen so far; everything may be left out.</summary>
    public IdentificationRequest? Observation { get; init; }

    /// <summary>The step.</summary>
    public required StepDescribed Step { get; init; }
}

/// <summary>A step that could be taken.</summary>
public sealed record StepDescribed
{
    /// <summary>What sort of work: a derivative, a spot test, liquid or solid, the boiling or the melting range of the unknown.</summary>
    public required NextStepKind Kind { get; init; }

    /// <summary>The derivative kind or spot test: key, name or synonym. Missing: the kind says it all.</summary>
    public string? Key { get; init; }
}

using Derivid.Core.Observations;

namespace Derivid.Core.Practice.Decisions;

/// <summary>What a decision tree is asked for: the compounds it may be, and what the laboratory has.</summary>
public sealed record DecisionOrder
{
    /// <summary>Fewest compounds: of one there is nothing to decide.</summary>
    public const int FewestParents = 2;

    /// <summary>Most compounds. Chosen: a sheet of more is no page.</summary>
    public const int MostParents = 40;

    /// <summary>Probability at which a compound is named unless another is asked for. Chosen.</summary>
    public const double DefaultCertainty = 0.95;

    /// <summary>The least certainty that can be asked for.</summary>
    public const double LeastCertainty = 0.6;

    /// <summary>The most. Chosen: no bench comes to more than this by reading ranges.</summary>
    public const double MostCertainty = 0.999;

    /// <summary>The compounds, each equally likely. Shape: keys without repeats, 2 to 40.</summary>
    public required IReadOnlyList<string> ParentKeys { get; init; }

    /// <summary>The derivative kinds that can be made. Shape: keys without repeats.</summary>
    public required IReadOnlyList<string> KindKeys { get; init; }

    /// <summary>The spot tests that can be run. Shape: keys without repeats.</summary>
    public required IReadOnlyList<string> TestKeys { get; init; }

    /// <summary>Whether the boiling range of a liquid, or the melting range of a solid, can be taken.</summary>
    public bool TakesConstants { get; init; } = true;

    /// <summary>What a class of hazard counts for: as so many minutes of work. Units: min. Bounds: 0 to 240.</summary>
    public double HazardMinutes { get; init; } = Observation.DefaultHazardMinutes;

    /// <summary>Probability that it is none of them, beforehand. Missing: null, the model's own. Bounds: 0 to 0.99.</summary>
    public double? NoneOfThese { get; init; }

    /// <summary>Probability at which a compound is named. Bounds: 0.6 to 0.999.</summary>
    public double Certainty { get; init; } = DefaultCertainty;
}

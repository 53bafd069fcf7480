using Derivid.Core.Compounds;

namespace Derivid.Core.Practice.Decisions;

/// <summary>The work that names any compound of a shelf in the fewest minutes expected, step by step.</summary>
/// <param name="Order">What was asked for.</param>
/// <param name="Parents">The compounds. Shape: in the order asked for.</param>
/// <param name="Root">Where it begins.</param>
public sealed record DecisionTree(DecisionOrder Order, IReadOnlyList<Parent> Parents, DecisionNode Root)
{
    /// <summary>What is to be expected of the whole.</summary>
    public DecisionForecast Forecast => Root.Forecast;
}

/// <summary>Where the work stands.</summary>
/// <param name="Reach">Probability of coming here.</param>
/// <param name="Belief">Probabilities of the compounds here, and last that of none of them. Shape: one more than the compounds; they sum to 1.</param>
/// <param name="Step">What to do. Missing: null, nothing more.</param>
/// <param name="Branches">What may be seen then. Shape: one an outcome that can happen, in the step's order; empty at an end.</param>
/// <param name="End">Why the work ends here. Missing: null, it goes on.</param>
/// <param name="Forecast">What is to be expected from here on.</param>
public sealed record DecisionNode(
    double Reach,
    IReadOnlyList<double> Belief,
    BenchStep? Step,
    IReadOnlyList<DecisionBranch> Branches,
    DecisionEnd? End,
    DecisionForecast Forecast)
{
    /// <summary>Where an outcome leads.</summary>
    /// <param name="outcome">Its place among the step's outcomes.</param>
    /// <returns>Missing: null, it was thought impossible.</returns>
    public DecisionNode? After(int outcome) => Branches.FirstOrDefault(branch => branch.Outcome == outcome)?.Node;
}

/// <summary>Why work ends.</summary>
public enum DecisionEnd
{
    /// <summary>A compound has the certainty asked for.</summary>
    Named,

    /// <summary>It is none of them as likely as not: label, thermometer and readings have to be looked at again.</summary>
    NoneOfThese,

    /// <summary>No step left would tell anything worth while.</summary>
    Exhausted,

    /// <summary>It seldom comes to this, and wasn't planned further; the forecast from here is a sketch.</summary>
    Rare,
}

/// <summary>What may be seen of a step.</summary>
/// <param name="Outcome">Its place among the step's outcomes.</param>
/// <param name="Probability">Its probability, once the step is taken.</param>
/// <param name="Node">Where it leads.</param>
public sealed record DecisionBranch(int Outcome, double Probability, DecisionNode Node);

/// <summary>What is to be expected of work not yet done.</summary>
/// <param name="Cost">Minutes with those that hazard counts for. Units: min.</param>
/// <param name="Minutes">Minutes at the bench. Units: min.</param>
/// <param name="Steps">Steps taken.</param>
/// <param name="HighHazards">Steps of high hazard among them.</param>
/// <param name="Named">Probability of ending with a compound named; of cases too rare to plan none counts.</param>
/// <param name="Right">Probability that what leads at the end is right.</param>
public readonly record struct DecisionForecast(
    double Cost, double Minutes, double Steps, double HighHazards, double Named, double Right)
{
    /// <summary>After a step with this work, what its outcomes lead to, each by its probability.</summary>
    internal DecisionForecast Plus(double share, DecisionForecast after) => new(
        Cost + (share * after.Cost),
        Minutes + (share * after.Minutes),
        Steps + (share * after.Steps),
        HighHazards + (share * after.HighHazards),
        Named + (share * after.Named),
        Right + (share * after.Right));
}

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
    string? Cautions)
{
    /// <summary>How many of the first steps the cautions of an answer cover. Chosen.</summary>
    public const int Cautioned = 5;

    /// <summary>What it tells a minute, where a class of hazard costs some minutes too: steps are put in order by it.</summary>
    /// <param name="hazardMinutes">What a class of hazard counts for. Units: min.</param>
    /// <returns>Units: nats per min.</returns>
    public double Rate(double hazardMinutes) => RateOf(ExpectedInformation, Minutes, Hazard, hazardMinutes);

    internal static double RateOf(double information, double minutes, Hazard hazard, double hazardMinutes) =>
        information / CostOf(minutes, hazard, hazardMinutes);

    // Minutes, with those that the hazard counts for.
    internal static double CostOf(double minutes, Hazard hazard, double hazardMinutes) => minutes + (hazardMinutes * (int)hazard);
}

/// <summary>What sort of work a next step is.</summary>
public enum NextStepKind
{
    /// <summary>Make another derivative and take its melting range.</summary>
    Derivative,

    /// <summary>Run a spot test.</summary>
    SpotTest,

    /// <summary>Take the boiling range of the unknown.</summary>
    BoilingPoint,

    /// <summary>Take the melting range of the unknown.</summary>
    MeltingPoint,

    /// <summary>See whether the unknown is a liquid or a solid.</summary>
    State,

    /// <summary>Recrystallise a derivative that was melted impure, and melt it again.</summary>
    Recrystallisation,

    /// <summary>Melt a mixture of the derivative with an authentic sample of the leading candidate's.</summary>
    MixedMeltingPoint,
}

/// <summary>Which step it is and what it is worth: only those shown are put into words, by <see cref="NextSteps.Write"/>.</summary>
/// <param name="Kind">What sort of work it is.</param>
/// <param name="Key">The derivative kind or spot test. Missing: null.</param>
/// <param name="ExpectedInformation">Expected fall of the entropy. Units: nats.</param>
/// <param name="Minutes">Rough time. Units: min.</param>
/// <param name="Hazard">Rough hazard class.</param>
internal readonly record struct PlannedStep(
    NextStepKind Kind, string? Key, double ExpectedInformation, double Minutes, Hazard Hazard)
{
    /// <summary>Whether it belongs to the identification's own means, rather than a physical constant.</summary>
    public bool IsDerivativeOrTest => Kind is NextStepKind.Derivative or NextStepKind.SpotTest;

    /// <summary>Expected information a minute, where a class of hazard costs some minutes too. Units: nats per min.</summary>
    public double Rate(double hazardMinutes) => NextStep.RateOf(ExpectedInformation, Minutes, Hazard, hazardMinutes);
}

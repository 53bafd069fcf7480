using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Core.Practice.Decisions;

/// <summary>A decision tree as it goes to the bench: one page of what to do next after what was seen.</summary>
/// <remarks>Only what the work is likely to come to stands on it; the rest goes back to the service. Nothing is identified.</remarks>
public sealed record DecisionSheet
{
    /// <summary>Most points of decision on a sheet. Chosen: what prints on one page.</summary>
    public const int MostPoints = 10;

    /// <summary>Version of the reference table.</summary>
    public required int TableVersion { get; init; }

    /// <summary>Version of the model whose forecasts it rests on.</summary>
    public required string ModelVersion { get; init; }

    /// <summary>The compounds it may be, each equally likely. Shape: in the order asked for.</summary>
    public required IReadOnlyList<DecisionCompound> Compounds { get; init; }

    /// <summary>Probability at which a compound is named.</summary>
    public required double Certainty { get; init; }

    /// <summary>What a class of hazard counted for. Units: min.</summary>
    public required double HazardMinutes { get; init; }

    /// <summary>What is to be expected of the whole, in figures.</summary>
    public required DecisionForecast Forecast { get; init; }

    /// <summary>Share of cases that the sheet itself brings to an end; the rest goes back to the service.</summary>
    public required double Settled { get; init; }

    /// <summary>The same in words.</summary>
    public required string Summary { get; init; }

    /// <summary>The points of decision, as they are come to: first the first. Shape: 1 to 10; a single one without a step where nothing tells the compounds apart.</summary>
    public required IReadOnlyList<DecisionPoint> Points { get; init; }

    /// <summary>The usual cautions for the steps on the sheet and the compounds.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>What all cautions close with: who decides.</summary>
    public required string Deferral { get; init; }

    /// <summary>Writes one.</summary>
    /// <param name="tree">The tree.</param>
    /// <param name="snapshot">The table it was planned on.</param>
    public static DecisionSheet Of(DecisionTree tree, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(tree);
        ArgumentNullException.ThrowIfNull(snapshot);
        return new DecisionSheetWriter(tree, snapshot).Write();
    }
}

/// <summary>A compound of a decision sheet.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Name">Its name.</param>
public sealed record DecisionCompound(string Key, string Name);

/// <summary>A point of decision: what to do, and where what is seen leads.</summary>
/// <param name="Number">Its number on the sheet, from 1.</param>
/// <param name="Reach">Probability of coming here.</param>
/// <param name="Candidates">What it may be by now: the likeliest compounds.</param>
/// <param name="NoneOfThese">Probability that it is none of the compounds, by now.</param>
/// <param name="Step">What to do. Missing: nothing would tell more.</param>
/// <param name="Branches">What may be seen. Shape: readings from the lowest up, then the rest; rare ones left out; empty where there is no step.</param>
public sealed record DecisionPoint(
    int Number,
    double Reach,
    IReadOnlyList<DecisionCandidate> Candidates,
    double NoneOfThese,
    DecisionStep? Step,
    IReadOnlyList<DecisionOutcome> Branches);

/// <summary>A step of a decision sheet.</summary>
/// <param name="Kind">What sort of work it is.</param>
/// <param name="Key">The derivative kind or spot test. Missing: the kind says it all.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Minutes">Rough time. Units: min.</param>
/// <param name="Hazard">Class of hazard.</param>
/// <param name="Words">In words, as an instruction.</param>
public sealed record DecisionStep(NextStepKind Kind, string? Key, string Name, double Minutes, Hazard Hazard, string Words)
{
    internal static DecisionStep Of(BenchWork what) => new(what.Kind, what.Key, what.Name, what.Minutes, what.Hazard, what.Words);
}

/// <summary>Something that may be seen, and where it leads.</summary>
/// <param name="Seen">What sort of thing.</param>
/// <param name="LowCelsius">Lower end of a band of readings, inside. Units: °C. Missing: no reading, or open below.</param>
/// <param name="HighCelsius">Upper end of it, outside. Units: °C. Missing: no reading, or open above.</param>
/// <param name="Words">In words.</param>
/// <param name="Probability">Its probability, once the step is taken.</param>
/// <param name="Candidates">What it may be then: the likeliest compounds.</param>
/// <param name="NoneOfThese">Probability that it is none of the compounds, then.</param>
/// <param name="End">Why the work ends here: a compound is named, it is none of them, nothing more would tell, or it is rare and goes back to the service. Missing: it goes on.</param>
/// <param name="Next">Number of the point it leads to. Missing: the work ends here.</param>
public sealed record DecisionOutcome(
    BenchOutcomeKind Seen,
    double? LowCelsius,
    double? HighCelsius,
    string Words,
    double Probability,
    IReadOnlyList<DecisionCandidate> Candidates,
    double NoneOfThese,
    DecisionEnd? End,
    int? Next);

/// <summary>A compound that it may be.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Probability">Its probability.</param>
public sealed record DecisionCandidate(string Key, string Name, double Probability);

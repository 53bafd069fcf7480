using System.Numerics.Tensors;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Practice.Decisions;

/// <summary>A step that can be taken at the bench, with how likely each compound in play shows each outcome.</summary>
/// <remarks>Thread safety: immutable.</remarks>
public sealed class BenchStep
{
    private readonly double[] _shares;
    private readonly double[] _entropies;

    /// <summary>Takes the outcomes.</summary>
    /// <param name="what">What is done.</param>
    /// <param name="outcomes">What it may show.</param>
    /// <param name="shares">Probability of each outcome of each compound. Shape: an outcome's compounds beside each other.</param>
    public BenchStep(BenchWork what, IReadOnlyList<BenchOutcome> outcomes, double[] shares)
    {
        ArgumentNullException.ThrowIfNull(what);
        ArgumentNullException.ThrowIfNull(outcomes);
        ArgumentNullException.ThrowIfNull(shares);
        (What, Outcomes, _shares) = (what, outcomes, shares);
        var compounds = shares.Length / outcomes.Count;
        _entropies = new double[compounds];
        Span<double> own = stackalloc double[outcomes.Count];
        for (var compound = 0; compound < compounds; compound++)
        {
            for (var outcome = 0; outcome < outcomes.Count; outcome++)
            {
                own[outcome] = shares[(outcome * compounds) + compound];
            }

            _entropies[compound] = Entropy.Of(own);
        }
    }

    /// <summary>What is done.</summary>
    public BenchWork What { get; }

    /// <summary>What it may show: bands of readings from the lowest up, then the rest.</summary>
    public IReadOnlyList<BenchOutcome> Outcomes { get; }

    /// <summary>Probability of an outcome of each compound.</summary>
    /// <param name="outcome">Its place among <see cref="Outcomes"/>.</param>
    /// <returns>Shape: one a compound.</returns>
    public ReadOnlySpan<double> SharesOf(int outcome) => _shares.AsSpan(outcome * _entropies.Length, _entropies.Length);

    /// <summary>Place of the band that holds a reading.</summary>
    /// <param name="celsius">The upper end of the range read. Units: °C.</param>
    public int Of(double celsius) => Outcomes.Index().First(outcome => outcome.Item.Holds(celsius)).Index;

    /// <summary>Place of an outcome that is no reading.</summary>
    /// <param name="kind">Its kind, among those that the step can have.</param>
    public int Of(BenchOutcomeKind kind) => Outcomes.Index().First(outcome => outcome.Item.Kind == kind).Index;

    /// <summary>Expected fall of entropy on taking the step.</summary>
    /// <param name="belief">Probabilities of the compounds; they sum to 1.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double Information(ReadOnlySpan<double> belief)
    {
        Span<double> outcomes = stackalloc double[Outcomes.Count];
        for (var outcome = 0; outcome < outcomes.Length; outcome++)
        {
            outcomes[outcome] = TensorPrimitives.Dot(SharesOf(outcome), belief);
        }

        return Math.Max(0, Entropy.Of(outcomes) - TensorPrimitives.Dot<double>(_entropies, belief));
    }

    /// <summary>The probabilities after an outcome.</summary>
    /// <param name="belief">Those before.</param>
    /// <param name="outcome">Place of the outcome.</param>
    /// <param name="after">Filled. Shape: one a compound.</param>
    /// <returns>Probability of the outcome.</returns>
    public double Update(ReadOnlySpan<double> belief, int outcome, Span<double> after)
    {
        TensorPrimitives.Multiply(SharesOf(outcome), belief, after);
        var probability = TensorPrimitives.Sum<double>(after);
        if (probability > 0)
        {
            TensorPrimitives.Divide(after, probability, after);
        }

        return probability;
    }
}

/// <summary>Work at the bench.</summary>
/// <param name="Kind">What sort of work.</param>
/// <param name="Key">The derivative kind or spot test. Missing: null where the kind says it all.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Minutes">Time it takes, apparatus at hand. Units: min.</param>
/// <param name="Hazard">Class of hazard.</param>
/// <param name="Cautions">The cautions that go with it, without a deferral. Missing: null, none of its own.</param>
public sealed record BenchWork(NextStepKind Kind, string? Key, string Name, double Minutes, Hazard Hazard, string? Cautions)
{
    /// <summary>The question a spot test asks; of tests of one question only the first tells much. Missing: null, no test.</summary>
    public string? QuestionKey { get; init; }

    /// <summary>In words, as an instruction.</summary>
    public string Words => Kind switch
    {
        NextStepKind.Derivative => $"make the {Name} and read its clear point",
        NextStepKind.SpotTest => $"run the {Name}",
        NextStepKind.State => "see whether the unknown is a liquid or a solid",
        NextStepKind.BoilingPoint => "take the boiling range of the unknown",
        NextStepKind.MeltingPoint => "take the melting range of the unknown",
        NextStepKind.Recrystallisation or NextStepKind.MixedMeltingPoint => Name,
    };

    /// <summary>Minutes, those that its hazard counts for among them. Units: min.</summary>
    /// <param name="hazardMinutes">What a class of hazard counts for. Units: min.</param>
    public double Cost(double hazardMinutes) => NextStep.CostOf(Minutes, Hazard, hazardMinutes);
}

using Derivid.Core.Ranking;

namespace Derivid.Core.Learning;

/// <summary>Colours called, by colour class of one derivative kind and by compound.</summary>
/// <remarks>
/// What is counted are calls, so calls are what the intervals are of. A compound's call shares have a Dirichlet prior about
/// those that its class and its recorded colour foretell, worth κ calls; a class's one about what is assumed, worth s. Both are averaged
/// over powers of 2 by how well they foretell the counts, as in <see cref="TwoLevelRates"/>. Calls of one compound are not
/// independent for its class, which is given n·(w + 1)/(w + n) of n, the design effect of counts about the class's mean that is worth w
/// calls to a compound, fitted likewise. A compound's interval has the class's error in it too.
/// The true colours that the table keeps, and how often a recorded one is met, are the most probable ones that would be called
/// so, by expectation and maximisation, under the same priors and the model's own errors of calling.
/// </remarks>
public sealed class ColourLearning
{
    private static readonly double[] Worths = [1, 2, 4, 8, 16, 32, 64, 128, 256];

    // How many calls of compounds with a recorded colour the assumed share of it is worth. Chosen.
    private const double RecordedWorth = 10;

    private const double FirstWorth = 8;
    private const double LeastWorth = 1e-3;
    private const int Rounds = 100;

    private readonly double[][] _confusion;
    private readonly IReadOnlyList<ColourClass> _classes;
    private readonly double _assumedShare;
    private readonly bool _keepsShare;
    private double[][] _weights;

    private ColourLearning(IReadOnlyList<ColourClass> classes, ColourSettings settings, bool keepsShare)
    {
        (_classes, _keepsShare) = (classes, keepsShare);
        _assumedShare = RecordedShare = settings.RecordedShare;
        _confusion = classes.Count == 0 ? [] : ColourTable.Confusion(classes[0].Assumed.Count, settings);
        _weights = [.. classes.Select(one => one.Assumed.ToArray())];
        Classes = [];
        if (classes.Sum(one => one.Compounds.Count) == 0)
        {
            return;
        }

        var assumed = classes.Select(one => one.Compounds.Select(compound => Called(one.Assumed, compound)).ToList()).ToList();
        Maximise(FirstWorth, _ => 1);
        CompoundWorth = Mean(worth => classes.Select((one, index) => one.Compounds.Sum(compound =>
            LogGamma.OfCounts(Called(_weights[index], compound), worth, Doubles(compound.Calls)))).Sum());
        // About the mean of their class compounds lie farther off than about what their own recorded colours foretell.
        var within = Mean(worth => classes.Select((one, index) => one.Compounds.Count == 0 ? 0 : Average([.. one.Compounds.Select(compound => Called(_weights[index], compound))]) is var mean
            ? one.Compounds.Sum(compound => LogGamma.OfCounts(mean, worth, Doubles(compound.Calls)))
            : 0).Sum());
        double Discount(int calls) => (within + 1) / (within + calls);
        var counts = classes.Select(one => Enumerable.Range(0, one.Assumed.Count)
            .Select(rank => one.Compounds.Sum(compound => compound.Calls[rank] * Discount(compound.Calls.Sum()))).ToArray()).ToList();
        var foretold = assumed.Select((calls, index) => calls.Count == 0 ? classes[index].Assumed : Average(calls)).ToList();
        ClassWorth = Mean(worth => counts.Select((count, index) => LogGamma.OfCounts(foretold[index], worth, count)).Sum());
        Maximise(ClassWorth, Discount);
        Classes = [.. classes.Select((one, index) => Learned(one, index, foretold[index], counts[index]))];
    }

    /// <summary>The classes, in the order given; empty where no call was counted.</summary>
    public IReadOnlyList<LearnedColours> Classes { get; }

    /// <summary>How often a recorded colour is met.</summary>
    public double RecordedShare { get; private set; }

    /// <summary>How many calls what is assumed of a class turned out to be worth, on geometric average.</summary>
    public double ClassWorth { get; }

    /// <summary>How many calls a class is worth to one of its compounds, on geometric average.</summary>
    public double CompoundWorth { get; }

    /// <summary>Learns.</summary>
    /// <param name="classes">What was counted. Shape: every class with the same colours.</param>
    /// <param name="settings">How colours are called.</param>
    /// <param name="keepsShare">Whether a recorded colour is met as often as is assumed, come what may.</param>
    public static ColourLearning Of(IReadOnlyList<ColourClass> classes, ColourSettings settings, bool keepsShare = false)
    {
        ArgumentNullException.ThrowIfNull(classes);
        ArgumentNullException.ThrowIfNull(settings);
        return new ColourLearning(classes, settings, keepsShare);
    }

    private static double[] Doubles(IReadOnlyList<int> counts) => [.. counts.Select(count => (double)count)];

    private static double[] Average(List<double[]> shares) =>
        [.. Enumerable.Range(0, shares[0].Length).Select(rank => shares.Average(share => share[rank]))];

    private static double Mean(Func<double, double> logLikelihood) =>
        Math.Exp(BetaNodes.Shares([.. Worths.Select(logLikelihood)]).Zip(Worths, (share, worth) => share * Math.Log(worth)).Sum());

    private double[] Called(IReadOnlyList<double> weights, ColouredCompound compound) =>
        ColourTable.Called(ColourTable.TrueColours(weights, compound.RecordedRanks, RecordedShare), _confusion);

    private LearnedColours Learned(ColourClass one, int index, IReadOnlyList<double> foretold, double[] counts)
    {
        var worth = ClassWorth + counts.Sum();
        var ofClass = foretold.Select((share, rank) => ((share * ClassWorth) + counts[rank]) / worth).ToArray();
        return new LearnedColours(
            one.Key,
            _weights[index],
            [.. ofClass.Select(share => LearnedFigure.OfBeta(share, worth))],
            counts.Sum(),
            [.. one.Compounds.Select(compound => new LearnedCalls(compound.Key, Learned(compound, Called(_weights[index], compound), ofClass, worth)))])
        {
            Counted = one.Compounds.Sum(compound => compound.Calls.Sum()),
        };
    }

    /// <summary>A compound's shares, with the error of what its class foretells added to that of its own counts.</summary>
    private IReadOnlyList<LearnedFigure> Learned(ColouredCompound compound, double[] expected, double[] ofClass, double classWorth)
    {
        var after = CompoundWorth + compound.Calls.Sum();
        return [.. expected.Select((share, rank) =>
        {
            var mean = ((share * CompoundWorth) + compound.Calls[rank]) / after;
            var fromClass = CompoundWorth / after;
            var variance = (mean * (1 - mean) / (after + 1)) + (fromClass * fromClass * ofClass[rank] * (1 - ofClass[rank]) / (classWorth + 1));
            return LearnedFigure.OfBeta(mean, Math.Max((mean * (1 - mean) / variance) - 1, LeastWorth));
        })];
    }

    /// <summary>Finds the most probable true colours of every class, and the share of the recorded ones.</summary>
    private void Maximise(double worth, Func<int, double> discount)
    {
        _weights = [.. _classes.Select(one => one.Assumed.ToArray())];
        for (var round = 0; round < Rounds; round++)
        {
            var (recorded, all) = (RecordedWorth * _assumedShare, RecordedWorth);
            var next = new double[_classes.Count][];
            for (var index = 0; index < next.Length; index++)
            {
                next[index] = [.. _classes[index].Assumed.Select(share => share * worth)];
                foreach (var compound in _classes[index].Compounds)
                {
                    var factor = discount(compound.Calls.Sum());
                    var met = Divide(compound, _weights[index], factor, next[index]);
                    if (compound.RecordedRanks.Count > 0)
                    {
                        (recorded, all) = (recorded + met, all + (factor * compound.Calls.Sum()));
                    }
                }

                var sum = next[index].Sum();
                next[index] = [.. next[index].Select(share => share / sum)];
            }

            (_weights, RecordedShare) = (next, _keepsShare ? _assumedShare : recorded / all);
        }
    }

    /// <summary>Divides a compound's calls among true colours of its class and recorded ones.</summary>
    /// <returns>How many fall to the recorded ones.</returns>
    private double Divide(ColouredCompound compound, double[] weights, double factor, double[] ofClass)
    {
        var share = compound.RecordedRanks.Count > 0 ? RecordedShare : 0;
        var met = 0.0;
        for (var call = 0; call < weights.Length; call++)
        {
            if (compound.Calls[call] == 0)
            {
                continue;
            }

            var recorded = compound.RecordedRanks.Sum(rank => share / compound.RecordedRanks.Count * _confusion[rank][call]);
            var total = recorded + weights.Select((weight, rank) => (1 - share) * weight * _confusion[rank][call]).Sum();
            var each = factor * compound.Calls[call] / total;
            met += each * recorded;
            for (var rank = 0; rank < weights.Length; rank++)
            {
                ofClass[rank] += each * (1 - share) * weights[rank] * _confusion[rank][call];
            }
        }

        return met;
    }
}

/// <summary>A colour class of one derivative kind and the calls counted of its compounds.</summary>
/// <param name="Key">What the caller knows it by.</param>
/// <param name="Assumed">The true colours assumed so far. Shape: one a rank, summing to 1.</param>
/// <param name="Compounds">Shape: may be empty.</param>
public sealed record ColourClass(string Key, IReadOnlyList<double> Assumed, IReadOnlyList<ColouredCompound> Compounds);

/// <summary>The calls of one compound's derivative.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Calls">Shape: one a rank.</param>
/// <param name="RecordedRanks">Colours that the table records for it. Shape: may be empty.</param>
public sealed record ColouredCompound(string Key, IReadOnlyList<int> Calls, IReadOnlyList<int> RecordedRanks);

/// <summary>What was learned of a colour class.</summary>
/// <param name="Key">What the caller knows it by.</param>
/// <param name="Weights">The most probable true colours. Shape: one a rank, summing to 1.</param>
/// <param name="Calls">How often each colour is called. Shape: one a rank.</param>
/// <param name="Weight">How many calls of the class all that was counted is worth, to hold against <see cref="ColourLearning.ClassWorth"/>.</param>
/// <param name="Compounds">The compounds, in the order given.</param>
public sealed record LearnedColours(
    string Key, IReadOnlyList<double> Weights, IReadOnlyList<LearnedFigure> Calls, double Weight, IReadOnlyList<LearnedCalls> Compounds)
{
    /// <summary>Calls that were counted.</summary>
    public required int Counted { get; init; }
}

/// <summary>What was learned of the colours called for one compound.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Calls">How often each colour is called. Shape: one a rank.</param>
public sealed record LearnedCalls(string Key, IReadOnlyList<LearnedFigure> Calls);

namespace Derivid.Core.Learning;

/// <summary>Rates of yes by class and compound, each drawn towards what stands above it: the compound to its class, the class to what is assumed.</summary>
/// <remarks>
/// A class's rate has a Beta prior about the assumed rate that is worth s reports; a compound's a Beta prior about its class's that is
/// worth κ; counts are binomial. Neither worth is chosen: both are averaged over grids of powers of 2, each as likely beforehand,
/// weighted by how well they foretell all counts of all classes together (empirical Bayes with its error kept). So assumed
/// rates that hold are believed the more, and with nothing counted everything stays as assumed.
/// The hierarchy is the usual Beta-binomial one: A. Gelman et al., Bayesian Data Analysis (2013), chapter 5 (recalled).
/// </remarks>
public sealed class TwoLevelRates
{
    // Chosen, wide enough that neither end ever held most of the weight on the simulated classes.
    private static readonly double[] ClassWorths = [1, 2, 4, 8, 16, 32, 64, 128];
    private static readonly double[] CompoundWorths = [2, 4, 8, 16, 32, 64, 128, 256, 512];

    private const double LeastAssumed = 0.01;

    // Parts of a mixture smaller than this don't move its ends.
    private const double LeastPart = 1e-4;

    private readonly BetaNodes _nodes = BetaNodes.Coarse;

    private TwoLevelRates(IReadOnlyList<CountedClass> classes)
    {
        var likelihoods = classes.Select(LogLikelihoods).ToList();
        var priors = classes.Select(one => ClassWorths.Select(worth => Prior(one, worth)).ToArray()).ToList();
        var weights = Weights(likelihoods, priors);
        ClassWorth = Mean(weights, (s, _) => ClassWorths[s]);
        CompoundWorth = Mean(weights, (_, k) => CompoundWorths[k]);
        Classes = [.. classes.Select((one, index) => Learned(one, likelihoods[index], priors[index], weights))];
    }

    /// <summary>How many reports an assumed rate turned out to be worth, on geometric average.</summary>
    public double ClassWorth { get; }

    /// <summary>How many reports a class's rate is worth to one of its compounds, on geometric average.</summary>
    public double CompoundWorth { get; }

    /// <summary>The classes, in the order given.</summary>
    public IReadOnlyList<LearnedClass> Classes { get; }

    /// <summary>Learns.</summary>
    /// <param name="classes">What was counted. Shape: may be empty.</param>
    public static TwoLevelRates Of(IReadOnlyList<CountedClass> classes)
    {
        ArgumentNullException.ThrowIfNull(classes);
        return new TwoLevelRates(classes);
    }

    private double[] Prior(CountedClass one, double worth)
    {
        var assumed = Math.Clamp(one.Assumed, LeastAssumed, 1 - LeastAssumed);
        return _nodes.Density(assumed * worth, (1 - assumed) * worth);
    }

    /// <summary>Shape: by worth of the class to a compound, one a place of the class's rate.</summary>
    private double[][] LogLikelihoods(CountedClass one) =>
    [
        .. CompoundWorths.Select(worth => _nodes.Rates
            .Select(rate => one.Compounds.Sum(compound =>
                LogGamma.Rising(rate * worth, compound.Yes) + LogGamma.Rising((1 - rate) * worth, compound.No) - LogGamma.Rising(worth, compound.Yes + compound.No)))
            .ToArray()),
    ];

    /// <summary>Posterior of the two worths. Shape: by worth of what is assumed, then of a class; sums to 1.</summary>
    private static double[][] Weights(List<double[][]> likelihoods, List<double[][]> priors)
    {
        double[] logs = [.. from s in Enumerable.Range(0, ClassWorths.Length)
                            from k in Enumerable.Range(0, CompoundWorths.Length)
                            select likelihoods.Zip(priors, (likelihood, prior) => LogMean(likelihood[k], prior[s])).Sum()];
        return [.. BetaNodes.Shares(logs).Chunk(CompoundWorths.Length)];
    }

    private static double LogMean(double[] logs, double[] shares)
    {
        var most = logs.Max();
        var sum = 0.0;
        for (var i = 0; i < logs.Length; i++)
        {
            sum += shares[i] * Math.Exp(logs[i] - most);
        }

        return most + Math.Log(Math.Max(sum, double.Epsilon));
    }

    private static double Mean(double[][] weights, Func<int, int, double> worth) =>
        Math.Exp(weights.SelectMany((row, s) => row.Select((weight, k) => weight * Math.Log(worth(s, k)))).Sum());

    private LearnedClass Learned(CountedClass one, double[][] likelihoods, double[][] priors, double[][] weights)
    {
        // By worth of the class, what is believed of its rate; s is averaged out, since compounds don't see it.
        var byWorth = CompoundWorths.Select((_, k) =>
        {
            var most = likelihoods[k].Max();
            var shares = new double[_nodes.Rates.Length];
            for (var s = 0; s < ClassWorths.Length; s++)
            {
                var joint = priors[s].Select((prior, i) => prior * Math.Exp(likelihoods[k][i] - most)).ToArray();
                var sum = joint.Sum();
                for (var i = 0; i < shares.Length && sum > 0; i++)
                {
                    shares[i] += weights[s][k] * joint[i] / sum;
                }
            }

            return shares;
        }).ToArray();
        var ofClass = _nodes.Rates.Select((_, i) => byWorth.Sum(shares => shares[i])).ToArray();
        return new LearnedClass(
            one.Key,
            one.Assumed,
            _nodes.Summarise(ofClass),
            one.Compounds.Sum(compound => compound.Counted * (CompoundWorth + 1) / (CompoundWorth + compound.Counted)),
            [.. one.Compounds.Select(compound => Learned(compound, byWorth))]);
    }

    private LearnedCompound Learned(CountedCompound compound, double[][] byWorth)
    {
        // A mixture of Beta distributions, a part for each place of the class's rate and each of its worths.
        var mean = 0.0;
        var shares = new double[BetaNodes.Middle.Rates.Length];
        for (var k = 0; k < byWorth.Length; k++)
        {
            var worth = CompoundWorths[k];
            var after = worth + compound.Yes + compound.No;
            for (var i = 0; i < _nodes.Rates.Length; i++)
            {
                var yes = (worth * _nodes.Rates[i]) + compound.Yes;
                mean += byWorth[k][i] * yes / after;
                if (byWorth[k][i] > LeastPart)
                {
                    Add(shares, BetaNodes.Middle.Density(yes, after - yes), byWorth[k][i]);
                }
            }
        }

        return new LearnedCompound(compound.Key, compound.Counted, BetaNodes.Middle.Summarise(shares) with { Mean = mean });
    }

    private static void Add(double[] sum, double[] shares, double weight)
    {
        for (var i = 0; i < sum.Length; i++)
        {
            sum[i] += weight * shares[i];
        }
    }
}

/// <summary>A class of compounds and what was counted of them.</summary>
/// <param name="Key">What the caller knows it by.</param>
/// <param name="Assumed">The rate assumed so far. Bounds: 0 to 1; taken as 0.01 to 0.99, since nothing is certain.</param>
/// <param name="Compounds">Shape: may be empty.</param>
public sealed record CountedClass(string Key, double Assumed, IReadOnlyList<CountedCompound> Compounds);

/// <summary>What was counted of a compound.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Yes">How often yes.</param>
/// <param name="No">How often no.</param>
public sealed record CountedCompound(string Key, int Yes, int No)
{
    /// <summary>How often in all.</summary>
    internal int Counted => Yes + No;
}

/// <summary>What was learned of a class.</summary>
/// <param name="Key">What the caller knows it by.</param>
/// <param name="Assumed">The rate assumed so far.</param>
/// <param name="Rate">The class's rate: that of a compound of it of which nothing was counted, on average.</param>
/// <param name="Weight">
/// How many reports of the class all that was counted is worth, to hold against <see cref="TwoLevelRates.ClassWorth"/>: n·(κ + 1)/(κ + n) of a compound's n, the
/// design effect of counts that share a compound, whose class is worth κ.
/// </param>
/// <param name="Compounds">Its compounds, in the order given.</param>
public sealed record LearnedClass(string Key, double Assumed, LearnedFigure Rate, double Weight, IReadOnlyList<LearnedCompound> Compounds);

/// <summary>What was learned of a compound.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Counted">Reports that were counted.</param>
/// <param name="Rate">Its rate.</param>
public sealed record LearnedCompound(string Key, int Counted, LearnedFigure Rate);

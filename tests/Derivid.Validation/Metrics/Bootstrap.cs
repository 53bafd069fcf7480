namespace Derivid.Validation.Metrics;

/// <summary>Percentile bootstrap over cases.</summary>
/// <remarks>Efron and Tibshirani, An Introduction to the Bootstrap (1993), chapter 13; recalled.</remarks>
public static class Bootstrap
{
    /// <summary>Resamples drawn.</summary>
    public const int Resamples = 200;

    /// <summary>Central 95 % interval of each of several figures.</summary>
    /// <param name="cases">Number of cases.</param>
    /// <param name="seed">Seed of the resampling.</param>
    /// <param name="figures">Works the figures out from how often each case counts.</param>
    /// <returns>Shape: one interval a figure.</returns>
    public static (double Low, double High)[] Intervals(int cases, int seed, Func<int[], double[]> figures)
    {
        var samples = new double[Resamples][];
        Parallel.For(0, Resamples, resample =>
        {
            var random = new Random(unchecked((seed * 1_000_003) + resample));
            var weights = new int[cases];
            for (var i = 0; i < cases; i++)
            {
                weights[random.Next(cases)]++;
            }

            samples[resample] = figures(weights);
        });
        return [.. Enumerable.Range(0, samples[0].Length).Select(i =>
        {
            var values = samples.Select(sample => sample[i]).Order().ToArray();
            return (values[(int)(0.025 * Resamples)], values[(int)(0.975 * Resamples)]);
        })];
    }
}

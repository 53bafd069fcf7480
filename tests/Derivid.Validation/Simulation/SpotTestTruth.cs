namespace Derivid.Validation.Simulation;

/// <summary>What a clean sample does in a spot test, read off the table's rate.</summary>
/// <remarks>
/// The table's rates hold assumed mistakes; the bench brings its own, so a rate counts as yes or no here unless the table
/// says that it may go either way.
/// </remarks>
public static class SpotTestTruth
{
    private const double LeastUnsure = 0.3;
    private const double MostUnsure = 0.7;

    /// <summary>Probability that a clean sample, read without mistake, is positive.</summary>
    public static double Positive(double tableRate) =>
        tableRate < LeastUnsure ? 0 : tableRate > MostUnsure ? 1 : tableRate;

    /// <summary>Draws the outcome.</summary>
    public static bool IsPositive(double tableRate, Random random) => random.NextDouble() < Positive(tableRate);
}

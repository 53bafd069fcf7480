namespace Derivid.Validation.Simulation;

/// <summary>How the simulated students call a colour.</summary>
public static class ColourCalls
{
    /// <summary>Probability of each call.</summary>
    /// <param name="colour">Rank of the true colour.</param>
    /// <param name="count">Number of colours.</param>
    /// <param name="parameters">How people err.</param>
    /// <returns>Shape: one a colour, summing to 1. A call off the end of the order stays at the end.</returns>
    public static double[] Of(int colour, int count, BenchParameters parameters)
    {
        var (paler, right, darker, twoDarker) = parameters.ColourCall;
        var calls = new double[count];
        Array.Fill(calls, (1 - paler - right - darker - twoDarker) / count);
        Add(-1, paler);
        Add(0, right);
        Add(1, darker);
        Add(2, twoDarker);
        return calls;

        void Add(int steps, double share) => calls[Math.Clamp(colour + steps, 0, count - 1)] += share;
    }
}

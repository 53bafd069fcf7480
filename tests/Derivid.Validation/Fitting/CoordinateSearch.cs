namespace Derivid.Validation.Fitting;

/// <summary>Minimises a function of positive numbers, one at a time, by steps on the logarithm that shrink.</summary>
/// <remarks>Crude and sturdy: every evaluation is a whole simulation, and no gradient is to be had.</remarks>
public static class CoordinateSearch
{
    /// <summary>Minimises.</summary>
    /// <param name="start">Where to begin. Changed in place.</param>
    /// <param name="bounds">Least and most of each number.</param>
    /// <param name="objective">What to make small.</param>
    /// <param name="sweeps">How often to go round; the step halves each time.</param>
    /// <param name="progress">Told of each sweep's result.</param>
    /// <returns>The least value found.</returns>
    public static double Minimise(
        double[] start,
        IReadOnlyList<(double Least, double Most)> bounds,
        Func<double[], double> objective,
        int sweeps,
        Action<int, double>? progress = null)
    {
        var best = objective(start);
        var step = 1.6;
        for (var sweep = 0; sweep < sweeps; sweep++)
        {
            for (var i = 0; i < start.Length; i++)
            {
                best = Along(start, i, bounds[i], step, best, objective);
            }

            progress?.Invoke(sweep, best);
            step = Math.Sqrt(step);
        }

        return best;
    }

    private static double Along(
        double[] at, int i, (double Least, double Most) bounds, double step, double best, Func<double[], double> objective)
    {
        foreach (var factor in new[] { step, 1 / step })
        {
            var moved = false;
            while (true)
            {
                var old = at[i];
                at[i] = Math.Clamp(old * factor, bounds.Least, bounds.Most);
                var value = at[i] == old ? double.PositiveInfinity : objective(at);
                if (!(value < best))
                {
                    at[i] = old;
                    break;
                }

                (best, moved) = (value, true);
            }

            if (moved)
            {
                break;
            }
        }

        return best;
    }
}

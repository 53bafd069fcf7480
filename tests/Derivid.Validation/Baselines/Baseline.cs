using Derivid.Validation.Metrics;

namespace Derivid.Validation.Baselines;

/// <summary>A hand rule with honest probabilities put to its order.</summary>
/// <remarks>
/// The rule sorts candidates into tiers and by distance. Its probabilities come from the fitting half: which share of
/// unknowns is found in each tier, or absent, given which tiers hold anybody and how near the first candidate lies, and
/// how fast the probability falls with the distance inside a tier, exp(−distance/scale). Shares are counted with one case
/// added to each, so nothing is impossible. This flatters the rule: on paper it has no probabilities at all.
/// </remarks>
public sealed class Baseline
{
    private const int Tiers = 3;

    private static readonly double[] Nearness = [1, 2, 3, 5, 10];

    private static readonly double[] Scales = [0.5, 1, 1.5, 2, 3, 4, 6, 9, 14];

    private readonly Dictionary<int, double[]> _shares = [];
    private readonly double _scale;

    private Baseline(IReadOnlyList<FittingCase> cases)
    {
        foreach (var of in cases.GroupBy(c => State(c.Compared)))
        {
            // The last share is that of absent compounds.
            var counts = new double[Tiers + 1];
            for (var tier = 0; tier < Tiers; tier++)
            {
                counts[tier] = (of.Key >> tier) & 1;
            }

            counts[Tiers] = 1;
            foreach (var one in of)
            {
                counts[one.IsAbsent ? Tiers : one.Compared[one.Truth].Tier]++;
            }

            var total = counts.Sum();
            _shares[of.Key] = [.. counts.Select(count => count / total)];
        }

        _scale = Scales.MinBy(scale => cases.Sum(c => CaseScore.Of(Answer(c.Compared, scale), c.Truth, c.IsAbsent).LogLoss));
    }

    /// <summary>One case to fit on.</summary>
    /// <param name="Compared">Tier and distance of every parent.</param>
    /// <param name="Truth">Index of the true parent.</param>
    /// <param name="IsAbsent">Whether it was taken out.</param>
    public sealed record FittingCase((int Tier, double DistanceCelsius)[] Compared, int Truth, bool IsAbsent);

    /// <summary>Fits the probabilities of a rule.</summary>
    public static Baseline Fit(IReadOnlyList<FittingCase> cases) => new(cases);

    /// <summary>The rule's answer to one case.</summary>
    public MethodReply Answer((int Tier, double DistanceCelsius)[] compared) => Answer(compared, _scale);

    private MethodReply Answer((int Tier, double DistanceCelsius)[] compared, double scale)
    {
        var shares = _shares.GetValueOrDefault(State(compared)) ?? Even(State(compared));
        var weights = compared.Select(c => c.Tier < 0 ? 0 : Math.Exp(-Math.Min(c.DistanceCelsius / scale, 600))).ToArray();
        var totals = new double[Tiers];
        for (var parent = 0; parent < weights.Length; parent++)
        {
            if (compared[parent].Tier >= 0)
            {
                totals[compared[parent].Tier] += weights[parent];
            }
        }

        const double tierStep = 10_000;
        return new MethodReply(
            [.. weights.Select((weight, parent) => compared[parent].Tier < 0
                ? 0
                : weight * shares[compared[parent].Tier] / totals[compared[parent].Tier])],
            shares[Tiers])
        {
            Preference = [.. compared.Select(c => c.Tier < 0
                ? double.NegativeInfinity
                : -(c.Tier * tierStep) - c.DistanceCelsius)],
        };
    }

    private static int State((int Tier, double DistanceCelsius)[] compared)
    {
        var (state, best, nearest) = (0, Tiers, double.PositiveInfinity);
        foreach (var (tier, distance) in compared.Where(c => c.Tier >= 0))
        {
            state |= 1 << tier;
            nearest = tier < best ? distance : tier == best ? Math.Min(nearest, distance) : nearest;
            best = Math.Min(best, tier);
        }

        return state + (Nearness.Count(bound => nearest > bound) << Tiers);
    }

    private static double[] Even(int state)
    {
        var counts = Enumerable.Range(0, Tiers).Select(tier => (double)((state >> tier) & 1)).Append(1).ToArray();
        return [.. counts.Select(count => count / counts.Sum())];
    }
}

using Derivid.Validation.Fitting;
using Derivid.Validation.Metrics;

namespace Derivid.Validation.Baselines;

/// <summary>A distance rule with the best probabilities that can honestly be put to it.</summary>
public enum SoftShape
{
    /// <summary>Nearest listed value: falls with the distance, 1/(1 + (distance/scale)^power).</summary>
    Nearest,

    /// <summary>Inside or outside a window of ±5 °C.</summary>
    Window,

    /// <summary>Inside or outside the window whose width does best on the fitting half.</summary>
    FittedWindow,
}

/// <summary>
/// Weighs every candidate by its prior times a function of each distance, and fits the function's numbers by maximum
/// likelihood on the fitting half.
/// </summary>
/// <remarks>This flatters the rules: on paper they have no probabilities at all. Ties stay ties.</remarks>
public sealed class SoftRule
{
    private readonly SoftShape _shape;
    private readonly double[] _at;

    private SoftRule(SoftShape shape, double[] at) => (_shape, _at) = (shape, at);

    /// <summary>The distances of one case.</summary>
    /// <param name="Distances">Shape: one list a reading, one a parent. Units: °C. Missing: null, nothing listed.</param>
    /// <param name="Prior">Weight of each parent before anything is read; 0 for one that is not in the table.</param>
    /// <param name="Truth">Index of the right parent.</param>
    /// <param name="IsAbsent">Whether the right answer is "none of these".</param>
    public sealed record Case(IReadOnlyList<double?[]> Distances, double[] Prior, int Truth, bool IsAbsent = false);

    /// <summary>The fitted numbers: scale and power, or half width and weight outside; unlisted; none.</summary>
    public IReadOnlyList<double> Numbers => _at;

    /// <summary>Fits on cases of the fitting half.</summary>
    public static SoftRule Fit(SoftShape shape, IReadOnlyList<Case> cases)
    {
        var hasNone = cases.Any(one => one.IsAbsent);
        (double Least, double Most) none = hasNone ? (1e-4, 50) : (0, 0);
        (double Least, double Most)[] bounds = shape switch
        {
            SoftShape.Nearest => [(0.2, 20), (0.6, 6), (1e-4, 1), none],
            SoftShape.Window => [(5, 5), (1e-5, 1), (1e-4, 1), none],
            _ => [(0.5, 20), (1e-5, 1), (1e-4, 1), none],
        };
        // The search is a local one, so it is begun from several scales or widths.
        return Starts(shape)
            .Select(start => Search(shape, [.. start, hasNone ? 0.1 : 0], bounds, cases))
            .MinBy(found => found.Loss)
            .Rule;
    }

    private static double[][] Starts(SoftShape shape) => shape switch
    {
        SoftShape.Nearest => [[1, 1.5, 0.02], [3, 2.5, 0.05]],
        SoftShape.Window => [[5, 0.01, 0.05]],
        _ => [[1, 0.01, 0.05], [3, 0.01, 0.05], [8, 0.01, 0.05]],
    };

    private static (SoftRule Rule, double Loss) Search(
        SoftShape shape, double[] at, (double Least, double Most)[] bounds, IReadOnlyList<Case> cases)
    {
        var loss = CoordinateSearch.Minimise(
            at,
            bounds,
            trial =>
            {
                var rule = new SoftRule(shape, trial);
                return cases.Sum(one => CaseScore.Of(rule.Answer(one), one.Truth, one.IsAbsent).LogLoss);
            },
            sweeps: 6);
        return (new SoftRule(shape, at), loss);
    }

    /// <summary>The rule's answer.</summary>
    public MethodReply Answer(Case one)
    {
        var weights = (double[])one.Prior.Clone();
        var scale = 0.0;
        for (var parent = 0; parent < weights.Length; parent++)
        {
            scale += one.Prior[parent];
            foreach (var distances in one.Distances)
            {
                weights[parent] *= Kernel(distances[parent]);
            }
        }

        var none = scale * _at[3] / weights.Length;
        var total = weights.Sum() + none;
        for (var parent = 0; parent < weights.Length; parent++)
        {
            weights[parent] /= total;
        }

        return new MethodReply(weights, none / total);
    }

    private double Kernel(double? distance) =>
        distance is not { } celsius ? _at[2]
        : _shape == SoftShape.Nearest ? 1 / (1 + Math.Pow(celsius / _at[0], _at[1]))
        : celsius <= _at[0] ? 1
        : _at[1];
}

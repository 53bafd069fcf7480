namespace Derivid.Core.Ranking.Forecasts;

/// <summary>Where the probabilities stand, as forecasts ask for them: of the parents that count, and of "none of these".</summary>
/// <remarks>Thread safety: for one thread at a time.</remarks>
public sealed class ForecastWeights
{
    /// <summary>Below this weight a parent cannot move the third digit of what a step is expected to tell.</summary>
    public const double Least = 1e-6;

    /// <summary>All parents left out hold no more than this together, however many there are.</summary>
    public const double MostLeftOut = 1e-3;

    private readonly int[] _parents;
    private readonly double[] _weights;
    private (ParentClasses Classes, int[] Places, double[] Shares)? _byClass;

    /// <summary>Takes the probabilities of all parents.</summary>
    /// <param name="weights">Shape: one a parent, in snapshot order. With <paramref name="none"/> they sum to 1.</param>
    /// <param name="none">Probability of "none of these".</param>
    public ForecastWeights(ReadOnlySpan<double> weights, double none)
    {
        None = none;
        var (least, count) = (Math.Min(Least, MostLeftOut / weights.Length), 0);
        foreach (var weight in weights)
        {
            count += weight > least ? 1 : 0;
        }

        (_parents, _weights) = (new int[count], new double[count]);
        var at = 0;
        for (var parent = 0; parent < weights.Length; parent++)
        {
            if (weights[parent] > least)
            {
                (_parents[at], _weights[at++]) = (parent, weights[parent]);
            }
        }
    }

    /// <summary>Takes the probabilities of a few candidates, as if there were no others.</summary>
    /// <param name="parents">Their places in the snapshot. Shape: at least one.</param>
    /// <param name="weights">Of all parents, in snapshot order.</param>
    public ForecastWeights(IReadOnlyList<int> parents, IReadOnlyList<double> weights)
    {
        ArgumentNullException.ThrowIfNull(parents);
        ArgumentNullException.ThrowIfNull(weights);
        var total = parents.Sum(parent => weights[parent]);
        _parents = [.. parents.Order()];
        _weights = [.. _parents.Select(parent => weights[parent] / total)];
    }

    /// <summary>Places of the parents that count. Shape: ascending.</summary>
    public ReadOnlySpan<int> Parents => _parents;

    /// <summary>Their probabilities, in the same order.</summary>
    public ReadOnlySpan<double> Weights => _weights;

    /// <summary>Probability of "none of these".</summary>
    public double None { get; }

    /// <summary>Where the probabilities stand among classes.</summary>
    /// <param name="classes">The classes. Missing: null, among the parents themselves.</param>
    /// <returns>Those that count, ascending, and what each holds.</returns>
    internal (int[] Places, double[] Shares) By(ParentClasses? classes)
    {
        if (classes is null)
        {
            return (_parents, _weights);
        }

        if (_byClass is { } known && known.Classes == classes)
        {
            return (known.Places, known.Shares);
        }

        var held = new double[classes.Count];
        var of = classes.Of;
        for (var i = 0; i < _parents.Length; i++)
        {
            held[of[_parents[i]]] += _weights[i];
        }

        var (places, shares) = (new int[held.Length], held);
        var count = 0;
        for (var place = 0; place < held.Length; place++)
        {
            if (held[place] > 0)
            {
                (places[count], shares[count++]) = (place, held[place]);
            }
        }

        (places, shares) = (places[..count], shares[..count]);
        _byClass = (classes, places, shares);
        return (places, shares);
    }
}

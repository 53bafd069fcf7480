using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Core.Practice.Decisions;

/// <summary>The compounds of a shelf, each equally likely, and the steps that can be taken on any of them.</summary>
/// <remarks>
/// Where boiling and melting ranges can be taken, whoever works first looks whether the unknown is a liquid or a solid, and
/// then has the one or the other. Thread safety: immutable.
/// </remarks>
public sealed class ShelfBench
{
    private readonly IReadOnlyList<BenchStep>[] _steps;

    private ShelfBench(IReadOnlyList<Parent> parents, double[] prior, BenchStep? state, IReadOnlyList<BenchStep>[] steps) =>
        (Parents, Prior, State, _steps) = (parents, prior, state, steps);

    /// <summary>The compounds, in the order asked for.</summary>
    public IReadOnlyList<Parent> Parents { get; }

    /// <summary>Their probabilities before anything is done, alike, and last that of none of them. Shape: one more than the compounds.</summary>
    public double[] Prior { get; }

    /// <summary>Seeing whether the unknown is a liquid or a solid. Missing: null, it makes no difference to what can be done.</summary>
    public BenchStep? State { get; }

    /// <summary>What can be done then: derivatives and spot tests by key, then its own boiling or melting range.</summary>
    /// <param name="state">Place among the outcomes of <see cref="State"/>. Missing: null where there is none.</param>
    public IReadOnlyList<BenchStep> StepsAfter(int? state) => _steps[state ?? 0];

    /// <summary>Lays a bench out.</summary>
    /// <param name="order">The compounds, and what the laboratory has.</param>
    /// <param name="snapshot">The table.</param>
    /// <exception cref="ArgumentException">A key is not in the table, or there are too few compounds or too many.</exception>
    public static ShelfBench Of(DecisionOrder order, TableSnapshot snapshot)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(snapshot);
        if (order.ParentKeys.Count is < DecisionOrder.FewestParents or > DecisionOrder.MostParents)
        {
            throw new ArgumentException("Too few compounds, or too many.", nameof(order));
        }

        var parents = order.ParentKeys
            .Select(key => snapshot.TryFindParent(key, out var parent)
                ? parent
                : throw new ArgumentException($"The table has no parent '{key}'.", nameof(order)))
            .ToList();
        var none = order.NoneOfThese ?? snapshot.Settings.OpenSet.Prior;
        double[] prior = [.. parents.Select(_ => (1 - none) / parents.Count), none];
        var any = new BenchSteps(snapshot, parents, prior);
        BenchStep[] steps =
        [
            .. order.KindKeys.Order(StringComparer.Ordinal).Select(key => any.Derivative(snapshot.Kind(key))),
            .. order.TestKeys.Order(StringComparer.Ordinal).Select(any.SpotTest),
        ];
        var named = parents.Select(parent => snapshot.Parents[parent]).ToList();
        if (!order.TakesConstants)
        {
            return new ShelfBench(named, prior, null, [steps]);
        }

        var state = any.State();
        return new ShelfBench(named, prior, state, [.. state.Outcomes.Select((outcome, place) =>
        {
            var belief = new double[prior.Length];
            state.Update(prior, place, belief);
            var its = new BenchSteps(snapshot, parents, belief);
            return (IReadOnlyList<BenchStep>)
                [.. steps, outcome.Kind == BenchOutcomeKind.Solid ? its.MeltingPoint(isSolid: true) : its.BoilingPoint()];
        })]);
    }
}

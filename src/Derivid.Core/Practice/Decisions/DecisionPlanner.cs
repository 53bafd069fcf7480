using System.Numerics.Tensors;
using Derivid.Core.Compounds;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Practice.Decisions;

/// <summary>Finds the work that names any compound of a shelf in the fewest minutes expected.</summary>
/// <remarks>
/// What each step shows comes from the forecasts of the ranking engine, taken as independent given the compound; "none of
/// these" is one more of them, which shows what an average unlisted relative does. The engine itself keeps each relative
/// apart, so the more is read, the surer it can be than the tree that it is none of these. A compound
/// is named once it has the certainty asked for; where it is none of them as likely as not, the work ends, since what was read
/// has to be looked at again; where no step left tells anything worth while, the work ends with what it
/// has. From where the work is likely to come, several of the steps that tell most a minute are followed to the end and the
/// cheapest is taken; from where it seldom comes, the one that tells most. So the tree is at least as good as always taking
/// the step that tells most a minute, by its own forecasts; it isn't the best possible one, which nobody could search for. Time: up
/// to seconds. Thread safety: use by one thread.
/// </remarks>
public sealed class DecisionPlanner
{
    /// <summary>A step is worth taking if it tells this much. Units: nats. Chosen.</summary>
    public const double LeastInformation = 0.02;

    /// <summary>
    /// From this probability of none of them on, telling them apart is no longer the question, and the work ends. Chosen: as
    /// likely as all of them together.
    /// </summary>
    public const double Doubted = 0.5;

    /// <summary>Outcomes less likely than this are taken as impossible. Chosen.</summary>
    private const double LeastShare = 1e-4;

    /// <summary>Cases rarer than this are not followed: whoever meets one asks the service again. Chosen.</summary>
    private const double LeastReach = 3e-5;

    /// <summary>From where the work comes as often as this, several steps are followed to the end. Chosen.</summary>
    private const double LikelyReach = 0.02;

    /// <summary>From where it comes less often than this, the step that tells most a minute is taken. Chosen.</summary>
    private const double UnlikelyReach = 1e-3;

    /// <summary>How many. Chosen.</summary>
    private const int LikelyFollowed = 3;

    /// <summary>Cases rarer than this are only sketched when the steps to follow are picked. Chosen.</summary>
    private const double RoughReach = 2e-3;

    /// <summary>
    /// Shares looked at after which only the step that tells most a minute is followed, so that no shelf takes more than some
    /// seconds. Units: one compound's share of one outcome. Chosen.
    /// </summary>
    private const long MostLookedAt = 1_500_000_000;

    private readonly DecisionOrder _order;
    private readonly CancellationToken _cancellationToken;
    private IReadOnlyList<BenchStep> _steps = [];
    private long _lookedAt;

    private DecisionPlanner(DecisionOrder order, CancellationToken cancellationToken) =>
        (_order, _cancellationToken) = (order, cancellationToken);

    /// <summary>Plans.</summary>
    /// <param name="order">What is asked for.</param>
    /// <param name="snapshot">The table.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="ArgumentException">A key is not in the table, or there are too few compounds or too many.</exception>
    /// <exception cref="OperationCanceledException">Given up.</exception>
    public static DecisionTree Plan(DecisionOrder order, TableSnapshot snapshot, CancellationToken cancellationToken = default)
    {
        var bench = ShelfBench.Of(order, snapshot);
        var root = new DecisionPlanner(order, cancellationToken).Begin(bench);
        return new DecisionTree(order, bench.Parents, root);
    }

    /// <summary>Looks at the unknown, which costs next to nothing, and goes on as with a liquid or with a solid.</summary>
    private DecisionNode Begin(ShelfBench bench) => bench.State is { } state
        ? Follow(state, bench.Prior, 1, (outcome, after, reach) => Begin(bench.StepsAfter(outcome), after, reach))
        : Begin(bench.StepsAfter(null), bench.Prior, 1);

    private DecisionNode Begin(IReadOnlyList<BenchStep> steps, double[] belief, double reach)
    {
        _steps = steps;
        return Solve(belief, [.. steps.Select(_ => true)], reach);
    }

    private DecisionNode Solve(double[] belief, bool[] isLeft, double reach)
    {
        _cancellationToken.ThrowIfCancellationRequested();
        var likeliest = TensorPrimitives.Max<double>(belief);
        if (belief[^1] >= Doubted)
        {
            return new DecisionNode(reach, belief, null, [], DecisionEnd.NoneOfThese, new DecisionForecast(0, 0, 0, 0, 0, likeliest));
        }

        if (likeliest >= _order.Certainty)
        {
            return new DecisionNode(reach, belief, null, [], DecisionEnd.Named, new DecisionForecast(0, 0, 0, 0, 1, likeliest));
        }

        if (WorthTaking(belief, isLeft) is not [var best, ..] worth)
        {
            return new DecisionNode(reach, belief, null, [], DecisionEnd.Exhausted, new DecisionForecast(0, 0, 0, 0, 0, likeliest));
        }

        if (reach < LeastReach)
        {
            return new DecisionNode(reach, belief, null, [], DecisionEnd.Rare, Sketch(belief, best));
        }

        DecisionNode? cheapest = null;
        foreach (var step in Promising(worth, belief, isLeft, reach))
        {
            var left = Without(isLeft, step);
            var node = Follow(_steps[step], belief, reach, (_, after, reached) => Solve(after, left, reached));
            cheapest = cheapest is null || node.Forecast.Cost < cheapest.Forecast.Cost ? node : cheapest;
        }

        return cheapest!;
    }

    /// <summary>The steps to follow to the end: of all that tell something, those that look cheapest with what comes after.</summary>
    private IEnumerable<int> Promising(
        List<(int Step, double Rate)> worth, double[] belief, bool[] isLeft, double reach)
    {
        if (reach < UnlikelyReach || _lookedAt > MostLookedAt)
        {
            return [worth[0].Step];
        }

        var (rough, followed) = reach >= LikelyReach ? (RoughReach, LikelyFollowed) : (double.PositiveInfinity, 1);
        return worth
            .Select(step => step.Step)
            .OrderBy(step => Rough(step, belief, isLeft, reach, rough))
            .Take(followed);
    }

    /// <summary>Minutes that a step costs with what comes after, if that is always the step that tells most a minute.</summary>
    /// <param name="step">The step.</param>
    /// <param name="belief">Probabilities now.</param>
    /// <param name="isLeft">Steps left now.</param>
    /// <param name="reach">Probability of being here.</param>
    /// <param name="least">Cases rarer than this are only sketched.</param>
    private double Rough(int step, double[] belief, bool[] isLeft, double reach, double least)
    {
        var (its, left) = (_steps[step], Without(isLeft, step));
        var cost = its.What.Cost(_order.HazardMinutes);
        var after = new double[belief.Length];
        for (var outcome = 0; outcome < its.Outcomes.Count; outcome++)
        {
            var share = its.Update(belief, outcome, after);
            if (share < LeastShare || after[^1] >= Doubted || TensorPrimitives.Max<double>(after) >= _order.Certainty
                || WorthTaking(after, left) is not [var best, ..])
            {
                continue;
            }

            cost += share * (reach * share < least
                ? SketchedCost(after, best)
                : Rough(best.Step, [.. after], left, reach * share, least));
        }

        return cost;
    }

    /// <summary>
    /// What is left of a rare case: minutes as if every further step told as much a minute as the best one does; named, and
    /// right, as if nothing more were done.
    /// </summary>
    private DecisionForecast Sketch(double[] belief, (int Step, double Rate) best)
    {
        var work = _steps[best.Step].What;
        var cost = SketchedCost(belief, best);
        var steps = cost / work.Cost(_order.HazardMinutes);
        return new DecisionForecast(
            cost, steps * work.Minutes, steps, work.Hazard == Hazard.High ? steps : 0, 0, TensorPrimitives.Max<double>(belief));
    }

    private double SketchedCost(double[] belief, (int Step, double Rate) best) =>
        Math.Max(_steps[best.Step].What.Cost(_order.HazardMinutes), Entropy.Of(belief) / best.Rate);

    /// <summary>Takes a step and goes on from each of its outcomes.</summary>
    private DecisionNode Follow(
        BenchStep step, double[] belief, double reach, Func<int, double[], double, DecisionNode> then)
    {
        var work = step.What;
        var forecast = new DecisionForecast(
            work.Cost(_order.HazardMinutes), work.Minutes, 1, work.Hazard == Hazard.High ? 1 : 0, 0, 0);
        List<DecisionBranch> branches = [];
        for (var outcome = 0; outcome < step.Outcomes.Count; outcome++)
        {
            var after = new double[belief.Length];
            var share = step.Update(belief, outcome, after);
            if (share < LeastShare)
            {
                continue;
            }

            var node = then(outcome, after, reach * share);
            branches.Add(new DecisionBranch(outcome, share, node));
            forecast = forecast.Plus(share, node.Forecast);
        }

        return new DecisionNode(reach, belief, step, branches, null, forecast);
    }

    /// <summary>The steps left that tell something, those that tell most a minute first.</summary>
    private List<(int Step, double Rate)> WorthTaking(double[] belief, bool[] isLeft)
    {
        List<(int Step, double Rate)> worth = [];
        for (var step = 0; step < _steps.Count; step++)
        {
            if (!isLeft[step])
            {
                continue;
            }

            _lookedAt += _steps[step].Outcomes.Count * belief.Length;
            if (_steps[step].Information(belief) is >= LeastInformation and var information)
            {
                worth.Add((step, information / _steps[step].What.Cost(_order.HazardMinutes)));
            }
        }

        return [.. worth.OrderByDescending(step => step.Rate).ThenBy(step => step.Step)];
    }

    /// <summary>The steps left once one has been taken, and with a spot test the others that ask its question.</summary>
    private bool[] Without(bool[] isLeft, int taken)
    {
        var question = _steps[taken].What.QuestionKey;
        return [.. isLeft.Select((isStill, step) => isStill && step != taken && (question is null || _steps[step].What.QuestionKey != question))];
    }
}

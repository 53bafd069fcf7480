using Derivid.Core.Compounds;
using Derivid.Core.Ranking;

namespace Derivid.Core.Practice.Decisions;

/// <summary>Writes a decision sheet: the likeliest points of a tree, outcomes that come to the same as one.</summary>
/// <param name="tree">The tree.</param>
/// <param name="snapshot">The table it was planned on.</param>
internal sealed class DecisionSheetWriter(DecisionTree tree, TableSnapshot snapshot)
{
    /// <summary>Outcomes less likely than this have no line of their own. Chosen.</summary>
    private const double LeastShown = 0.01;

    /// <summary>Points come to less often than this are left to the service. Chosen.</summary>
    private const double LeastReach = 0.005;

    /// <summary>Compounds less likely than this are not named. Chosen.</summary>
    private const double LeastNamed = 0.02;

    private const int MostNamed = 3;

    // Common practice, no source.
    private const string Boiling =
        "boiling point: it takes some tenths of a millilitre; where there is less, plan without it. Above about 250 °C many compounds decompose: stop there.";

    private readonly List<DecisionNode> _points = [];

    /// <summary>Writes it.</summary>
    public DecisionSheet Write()
    {
        ChoosePoints();
        var points = _points.Select(Point).ToList();

        // The forecasts' single floats make a share or two of a hundred million too much.
        var settled = Math.Min(1, points.Sum(point => point.Reach * point.Branches
            .Where(outcome => outcome.End is DecisionEnd.Named or DecisionEnd.NoneOfThese or DecisionEnd.Exhausted)
            .Sum(outcome => outcome.Probability)));
        return new DecisionSheet
        {
            TableVersion = snapshot.Table.Version,
            ModelVersion = snapshot.Settings.Version,
            Compounds = [.. tree.Parents.Select(parent => new DecisionCompound(parent.Key, parent.Name))],
            Certainty = tree.Order.Certainty,
            HazardMinutes = tree.Order.HazardMinutes,
            Forecast = tree.Forecast,
            Settled = settled,
            Summary = Summary(settled),
            Points = points,
            Cautions = Cautions(),
            Deferral = Caution.DeferralOfList,
        };
    }

    /// <summary>The points most often come to, so many as a sheet holds; each after the one that leads to it.</summary>
    private void ChoosePoints()
    {
        var waiting = new PriorityQueue<DecisionNode, double>([(tree.Root, 0)]);
        while (_points.Count < DecisionSheet.MostPoints && waiting.TryDequeue(out var node, out _))
        {
            _points.Add(node);
            waiting.EnqueueRange(node.Branches
                .Where(branch => branch.Node.Step is not null && branch.Node.Reach >= LeastReach)
                .Select(branch => (branch.Node, -branch.Node.Reach)));
        }
    }

    private DecisionPoint Point(DecisionNode node, int place)
    {
        List<DecisionOutcome> outcomes = [];
        foreach (var branch in node.Branches)
        {
            var outcome = Outcome(node.Step!.Outcomes[branch.Outcome], branch);
            if (outcomes is [.., var last] && Joined(last, outcome) is { } joined)
            {
                outcomes[^1] = joined;
            }
            else
            {
                outcomes.Add(outcome);
            }
        }

        return new DecisionPoint(
            place + 1,
            node.Reach,
            Candidates(node.Belief),
            node.Belief[^1],
            node.Step is { } step ? DecisionStep.Of(step.What) : null,
            [.. outcomes.Where(outcome => outcome.Probability >= LeastShown || outcome.Next is not null)]);
    }

    private DecisionOutcome Outcome(BenchOutcome seen, DecisionBranch branch)
    {
        var next = _points.IndexOf(branch.Node);
        return new DecisionOutcome(
            seen.Kind,
            seen.LowCelsius,
            seen.HighCelsius,
            seen.Words,
            branch.Probability,
            Candidates(branch.Node.Belief),
            branch.Node.Belief[^1],
            next >= 0 ? null : branch.Node.End ?? DecisionEnd.Rare,
            next >= 0 ? next + 1 : null);
    }

    /// <summary>Two bands beside each other that end alike, as one. Missing: null, they don't.</summary>
    private static DecisionOutcome? Joined(DecisionOutcome low, DecisionOutcome high)
    {
        if (low.Seen != BenchOutcomeKind.Reading || high.Seen != BenchOutcomeKind.Reading
            || low.HighCelsius != high.LowCelsius || low.End is null || low.End != high.End
            || (low.End is DecisionEnd.Named or DecisionEnd.Exhausted && low.Candidates[0].Key != high.Candidates[0].Key))
        {
            return null;
        }

        var total = low.Probability + high.Probability;
        var candidates = low.Candidates.Concat(high.Candidates)
            .GroupBy(candidate => candidate.Key, StringComparer.Ordinal)
            .Select(group => group.First() with
            {
                Probability = ((low.Probability * Of(low, group.Key)) + (high.Probability * Of(high, group.Key))) / total,
            })
            .OrderByDescending(candidate => candidate.Probability)
            .Take(MostNamed);
        return low with
        {
            HighCelsius = high.HighCelsius,
            Words = new BenchOutcome(low.Seen, low.LowCelsius, high.HighCelsius).Words,
            Probability = total,
            NoneOfThese = ((low.Probability * low.NoneOfThese) + (high.Probability * high.NoneOfThese)) / total,
            Candidates = [.. candidates],
        };
    }

    private static double Of(DecisionOutcome outcome, string key) =>
        outcome.Candidates.FirstOrDefault(candidate => candidate.Key == key)?.Probability ?? 0;

    // The last is none of them.
    private List<DecisionCandidate> Candidates(IReadOnlyList<double> belief) =>
    [
        .. tree.Parents.Select((parent, place) => new DecisionCandidate(parent.Key, parent.Name, belief[place]))
            .OrderByDescending(candidate => candidate.Probability)
            .ThenBy(candidate => candidate.Key, StringComparer.Ordinal)
            .Take(MostNamed)
            .Where((candidate, place) => place == 0 || candidate.Probability >= LeastNamed),
    ];

    private string Summary(double settled)
    {
        var forecast = tree.Forecast;
        return tree.Root.Step is null
            ? "Nothing that the laboratory has tells these compounds apart."
            : $"About {Figure.Text(forecast.Minutes, 0)} min of work and {Steps(forecast.Steps)} on average, {Figure.Text(forecast.HighHazards, 1)} of high hazard. "
                + $"At least {Figure.Text(Math.Floor(100 * forecast.Named), 0)} % of cases end with a compound named, if the compounds are equally likely and it is none of them in {DecisionWords.Percent(tree.Root.Belief[^1])} of cases. "
                + $"This sheet brings {DecisionWords.Percent(settled)} to an end; whoever sees anything else has it ranked again. Where it is likelier none of these, look again at label, state and reading, then have it ranked against the whole table.";
    }

    private static string Steps(double steps) => Figure.Text(steps, 1) is var text && text == "1" ? "1 step" : $"{text} steps";

    private List<string> Cautions() =>
    [
        .. _points
            .Select(point => point.Step?.What)
            .OfType<BenchWork>()
            .Where(what => what.Cautions is not null)
            .OrderByDescending(what => what.Hazard)
            .Select(what => $"{what.Name}: {what.Cautions}")
            .Concat(_points.Any(point => point.Step?.What.Kind == NextStepKind.BoilingPoint) ? [Boiling] : [])
            .Concat(tree.Parents.Where(parent => parent.Hazards is not null).Select(parent => $"{parent.Name}: {parent.Hazards}"))
            .Distinct(StringComparer.Ordinal),
    ];
}

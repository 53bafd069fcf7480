using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Validation.Baselines;
using Derivid.Validation.Metrics;

namespace Derivid.Validation.Literature;

/// <summary>Who ranks the printed values.</summary>
public enum LiteratureMethod
{
    /// <summary>The service's engine, told that the compound is listed, as the rules are.</summary>
    Engine,

    /// <summary>The engine as it answers by itself, "none of these" included.</summary>
    EngineAsServed,

    /// <summary>Nearest listed value, probabilities fitted.</summary>
    Nearest,

    /// <summary>±5 °C window, probabilities fitted.</summary>
    Window,

    /// <summary>Window of fitted width, probabilities fitted.</summary>
    FittedWindow,
}

/// <summary>Scores of one set of cases under one prior.</summary>
/// <param name="Set">The set.</param>
/// <param name="Prior">Name of the prior.</param>
/// <param name="Cases">The cases of the reporting half.</param>
/// <param name="FittingCases">How many the rules were fitted on.</param>
/// <param name="Scores">Scores by method, in the order of the cases.</param>
/// <param name="FittingScores">The engine's scores on the fitting half.</param>
public sealed record LiteratureScores(
    LiteratureSet Set,
    string Prior,
    IReadOnlyList<LiteratureCase> Cases,
    int FittingCases,
    IReadOnlyDictionary<LiteratureMethod, CaseScore[]> Scores,
    IReadOnlyList<CaseScore> FittingScores);

/// <summary>Leave one family of sources out: are its values found in the table that is served without it?</summary>
/// <param name="table">The table that is served.</param>
/// <param name="settings">The engine's settings.</param>
public sealed class LiteratureTest(ReferenceTable table, ModelSettings settings)
{
    private const double Parts = 1e6;

    /// <summary>Ratios of one tier of commonness to the next that are tried on the fitting half; 1 is no prior.</summary>
    public static IReadOnlyList<double> Ratios { get; } = [1, 1.25, 1.5, 2, 2.5, 3, 4, 6, 9];

    private readonly Dictionary<string, (ReferenceTable Table, TableEstimates Estimates)> _reduced =
        new(StringComparer.Ordinal);

    private readonly IReadOnlyList<LiteratureCase> _cases = LiteratureCase.Build(table);
    private Dictionary<string, TableSnapshot> _snapshots = new(StringComparer.Ordinal);
    private ModelSettings _settings = settings;

    /// <summary>The cases, of all sets and both halves.</summary>
    public IReadOnlyList<LiteratureCase> Cases => _cases;

    /// <summary>The ratio of tiers that gives the engine the least log loss on the fitting half, and that loss.</summary>
    public IReadOnlyList<(double Ratio, double LogLoss)> FitRatio()
    {
        var fitting = _cases.Where(one => one.Set == LiteratureSet.Independent && Halves.IsFitting(one.ParentKey)).ToList();
        return [.. Ratios.Select(ratio =>
        {
            var weights = Weights(new CommonnessSettings
            {
                EverydayWeight = ratio * ratio,
                UsualWeight = ratio,
                RareWeight = 1,
            });
            return (ratio, fitting.Average(one => Ask(one, weights, none: 0).LogLoss));
        })];
    }

    /// <summary>Weight of each parent by its commonness.</summary>
    public IReadOnlyDictionary<string, double> Weights(CommonnessSettings worth) =>
        table.Parents.ToDictionary(parent => parent.Key, parent => worth.Of(parent.Commonness), StringComparer.Ordinal);

    /// <summary>The same for all.</summary>
    public IReadOnlyDictionary<string, double> Alike() =>
        table.Parents.ToDictionary(parent => parent.Key, _ => 1.0, StringComparer.Ordinal);

    /// <summary>
    /// Mean log loss of the engine on the fitting half, one reading at a time and its own prior, for settings on trial.
    /// </summary>
    public double FittingLoss(ModelSettings trial)
    {
        (_settings, _snapshots) = (trial, new(StringComparer.Ordinal));
        var weights = Weights(trial.Commonness);
        return _cases
            .Where(one => one.IsIn(LiteratureSet.OneReading) && Halves.IsFitting(one.ParentKey))
            .Average(one => Ask(one, weights, none: 0).LogLoss);
    }

    /// <summary>Scores every method on the reporting half; the rules are fitted on the other.</summary>
    /// <param name="set">The set; rules are fitted on its fitting half.</param>
    /// <param name="prior">Name of the prior.</param>
    /// <param name="weights">Weight of each parent, in the engine and in the rules alike.</param>
    public LiteratureScores Run(LiteratureSet set, string prior, IReadOnlyDictionary<string, double> weights)
    {
        // Several readings at once are too few to fit a rule on: single ones go in with them.
        var fittedOn = _cases
            .Where(one => Halves.IsFitting(one.ParentKey)
                && (one.IsIn(set) || (set == LiteratureSet.Several && one.IsIn(LiteratureSet.Listed))))
            .ToList();
        var reported = _cases.Where(one => one.IsIn(set) && !Halves.IsFitting(one.ParentKey)).ToList();
        var fitting = fittedOn.Select(one => SoftCase(one, weights)).ToList();
        var scores = new Dictionary<LiteratureMethod, CaseScore[]>
        {
            [LiteratureMethod.Engine] = [.. reported.Select(one => Ask(one, weights, none: 0))],
            [LiteratureMethod.EngineAsServed] = [.. reported.Select(one => Ask(one, weights, none: null))],
        };
        foreach (var shape in Enum.GetValues<SoftShape>())
        {
            var rule = SoftRule.Fit(shape, fitting);
            scores[LiteratureMethod.Nearest + (int)shape] = [.. reported.Select(one =>
            {
                var soft = SoftCase(one, weights);
                return CaseScore.Of(rule.Answer(soft), soft.Truth, isAbsent: false);
            })];
        }

        return new LiteratureScores(
            set, prior, reported, fitting.Count, scores, [.. fittedOn.Select(one => Ask(one, weights, none: 0))]);
    }

    private CaseScore Ask(LiteratureCase one, IReadOnlyDictionary<string, double> weights, double? none)
    {
        var snapshot = SnapshotWithout(one.Families);
        snapshot.TryFindParent(one.ParentKey, out var truth);
        var view = new IdentificationEngine(snapshot).Weigh(new Observation
        {
            Derivatives = one.Readings,
            Prior = new PriorChoice { Weights = weights, NoneOfThese = none },
        });
        return CaseScore.Of(new MethodReply([.. view.Probability], view.NoneOfThese), truth, isAbsent: false);
    }

    private SoftRule.Case SoftCase(LiteratureCase one, IReadOnlyDictionary<string, double> weights)
    {
        var snapshot = SnapshotWithout(one.Families);
        snapshot.TryFindParent(one.ParentKey, out var truth);
        return new SoftRule.Case(
            [.. one.Readings.Select(reading =>
            {
                var listed = snapshot.Kind(reading.KindKey).Listed;
                var clear = reading.Range!.Value.ClearPointCelsius;
                return Enumerable.Range(0, snapshot.Parents.Count)
                    .Select(parent => listed.Nearest(parent, clear) is { } nearest
                        ? Rounded(Math.Abs(ListedTemperatures.DeviationFrom(nearest, clear)))
                        : (double?)null)
                    .ToArray();
            })],
            [.. snapshot.Parents.Select(parent => weights[parent.Key])],
            truth);
    }

    /// <summary>Distances are made equal where only binary fractions part them, so that ties are ties.</summary>
    private static double Rounded(double celsius) => Math.Round(celsius * Parts) / Parts;

    private TableSnapshot SnapshotWithout(IReadOnlyList<string> families)
    {
        var listed = table.Sources.Select(source => source.Family).Intersect(families).Order(StringComparer.Ordinal).ToList();
        var key = string.Join(';', listed);
        if (!_snapshots.TryGetValue(key, out var snapshot))
        {
            if (!_reduced.TryGetValue(key, out var reduced))
            {
                var without = ReducedTable.Without(table, listed);
                reduced = (without, TableEstimates.Of(without));
                _reduced.Add(key, reduced);
            }

            snapshot = TableSnapshot.Build(reduced.Table, _settings, reduced.Estimates);
            _snapshots.Add(key, snapshot);
        }

        return snapshot;
    }
}

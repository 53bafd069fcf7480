using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Whether one compound of a shelf can be told from the others with what the laboratory offers.</summary>
public sealed record Identifiability
{
    /// <summary>The compound.</summary>
    public required string ParentKey { get; init; }

    /// <summary>Its probability among the shelf when every reading is ideal, at the listed values.</summary>
    public required double Posterior { get; init; }

    /// <summary>
    /// One less its mean probability among the shelf when all readings are off together by −4, −2, 0, 2 or 4 °C, weighted
    /// 1, 4, 6, 4, 1: a normal error of standard deviation 2 °C in steps. Bounds: 0, easy, to 1, hopeless. Chosen.
    /// </summary>
    public required double Difficulty { get; init; }

    /// <summary>Whether <see cref="Posterior"/> reaches what the rules ask for.</summary>
    public required bool IsIdentifiable { get; init; }

    /// <summary>Others that ideal readings leave a probability of 0.05 or more. Shape: most probable first; may be empty.</summary>
    public required IReadOnlyList<string> ConfusedWith { get; init; }

    /// <summary>
    /// Derivative kinds and spot tests the laboratory lacks that would make it identifiable, each by itself. Shape: the
    /// quickest and least hazardous first; empty where nothing would, or nothing is needed.
    /// </summary>
    public required IReadOnlyList<string> SettledBy { get; init; }

    /// <summary>The same in words.</summary>
    public required string Sentence { get; init; }
}

/// <summary>Asks the identification engine which compounds of a shelf can be told apart in a laboratory.</summary>
/// <param name="laboratory">The shelf and what can be done.</param>
/// <param name="leastPosterior">Least probability that makes a compound identifiable. Bounds: 0 to 1.</param>
/// <param name="snapshot">The table.</param>
public sealed class IdentifiabilityCheck(Laboratory laboratory, double leastPosterior, TableSnapshot snapshot)
{
    /// <summary>Others with at least this probability are named as confusable. Chosen.</summary>
    private const double NamedProbability = 0.05;

    /// <summary>Of what would settle it so many are named, the quickest. Chosen.</summary>
    private const int Named = 2;

    private static readonly (double OffCelsius, double Weight)[] Errors =
        [(-4, 1 / 16.0), (-2, 4 / 16.0), (0, 6 / 16.0), (2, 4 / 16.0), (4, 1 / 16.0)];

    private readonly IdentificationEngine _engine = new(snapshot);
    private readonly string[] _shelf = [.. laboratory.ShelfKeys.Order(StringComparer.Ordinal)];

    /// <summary>Checks every compound of the shelf.</summary>
    /// <param name="stop">Gives up.</param>
    /// <returns>Shape: one a compound, in order of the keys.</returns>
    /// <exception cref="ArgumentException">The laboratory names something the table does not have.</exception>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public IReadOnlyList<Identifiability> Run(CancellationToken stop = default)
    {
        laboratory.Check(snapshot);
        return [.. _shelf.Select(key =>
        {
            stop.ThrowIfCancellationRequested();
            return Check(key);
        })];
    }

    private Identifiability Check(string key)
    {
        var parent = Index(key);
        var view = Weigh(parent, laboratory, 0);
        var ideal = view.Probability;
        var posterior = ideal[parent];
        var isIdentifiable = posterior >= leastPosterior;
        var confused = _shelf
            .Where(other => other != key && ideal[Index(other)] >= NamedProbability)
            .OrderByDescending(other => ideal[Index(other)])
            .ToList();
        var settledBy = isIdentifiable ? [] : SettledBy(parent);
        return new Identifiability
        {
            ParentKey = key,
            Posterior = posterior,
            Difficulty = Math.Clamp(
                1 - Errors.Sum(error => error.Weight * Weigh(parent, laboratory, error.OffCelsius).Probability[parent]), 0, 1),
            IsIdentifiable = isIdentifiable,
            ConfusedWith = confused,
            SettledBy = [.. settledBy.Select(step => step.Key)],
            Sentence = isIdentifiable ? Settled(parent, posterior) : Flag(parent, posterior, view.Groups.Of(parent), settledBy),
        };
    }

    private PosteriorView Weigh(int parent, Laboratory available, double offCelsius) =>
        _engine.Weigh(IdealReadings.Of(parent, available, offCelsius, snapshot));

    /// <summary>Each thing the laboratory lacks that would by itself be enough, the quickest first, its hazard counted in minutes.</summary>
    private List<Remedy> SettledBy(int parent)
    {
        var kinds = snapshot.Kinds.Select(kind => kind.Kind)
            .Where(kind => !laboratory.KindKeys.Contains(kind.Key))
            .Select(kind => new Remedy(
                kind.Key, $"the {kind.Name}", With(laboratory with { KindKeys = [.. laboratory.KindKeys, kind.Key] }), Cost(kind.Minutes, kind.Hazard)));
        var tests = snapshot.SpotTests.Tests
            .Where(test => !laboratory.SpotTestKeys.Contains(test.Key))
            .Select(test => new Remedy(
                test.Key, test.Name, With(laboratory with { SpotTestKeys = [.. laboratory.SpotTestKeys, test.Key] }), Cost(test.Minutes, test.Hazard)));
        return [.. kinds.Concat(tests)
            .Where(remedy => remedy.Posterior >= leastPosterior)
            .OrderBy(remedy => remedy.Cost)
            .ThenByDescending(remedy => remedy.Posterior)
            .ThenBy(remedy => remedy.Key, StringComparer.Ordinal)];

        double With(Laboratory wider) => Weigh(parent, wider, 0).Probability[parent];

        static double Cost(double minutes, Hazard hazard) => NextStep.CostOf(minutes, hazard, Observation.DefaultHazardMinutes);
    }

    private string Settled(int parent, double posterior) =>
        string.Create(
            CultureInfo.InvariantCulture,
            $"{Name(parent)}: ideal readings give it {posterior:0.00} of the probability on this shelf.");

    private string Flag(
        int parent,
        double posterior,
        IReadOnlyList<int> group,
        List<Remedy> settledBy)
    {
        var others = group.Where(other => other != parent).Select(Name).ToList();
        var verdict = others.Count == 0 ? "does not stand out" : $"cannot be told from {string.Join(", ", others)}";
        var remedy = settledBy.Count == 0
            ? $"Nothing else in the table would settle it by itself: take {(others.Count == 0 ? "it" : "one of them")} off the shelf."
            : string.Create(
                CultureInfo.InvariantCulture,
                $"Offering {string.Join(" or ", settledBy.Take(Named).Select(remedy => $"{remedy.Name} ({remedy.Posterior:0.00})"))} would settle it.");
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{Name(parent)} {verdict} in this laboratory: ideal readings give it {posterior:0.00}, and {leastPosterior:0.00} is asked for. {remedy}");
    }

    private string Name(int parent) => snapshot.Parents[parent].Name;

    private int Index(string key) => snapshot.TryFindParent(key, out var index) ? index : -1;

    /// <summary>Something the laboratory lacks.</summary>
    /// <param name="Key">Key of the derivative kind or spot test.</param>
    /// <param name="Name">What it is called in a sentence.</param>
    /// <param name="Posterior">What it would make of the compound's probability.</param>
    /// <param name="Cost">Minutes, those its hazard counts for among them.</param>
    private sealed record Remedy(string Key, string Name, double Posterior, double Cost);
}

using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Validation.Literature;

/// <summary>Leave one source out: are its values found in a table made of the independent sources alone?</summary>
/// <remarks>
/// Every record of the family left out goes, of every parent, and what is left counts as recalled or read by itself: a
/// value may be called cross-checked only because the source left out agrees with it.
/// </remarks>
public static class CrossSourceTest
{
    /// <summary>The family of the recalled handbooks.</summary>
    public const string Handbooks = "handbooks";

    /// <summary>The cases: sources of independent families that list a pair of parent and kind the rest lists too.</summary>
    public static IReadOnlyList<CrossSourceCase> Cases(ReferenceTable table)
    {
        var families = Families(table);
        return [.. table.Derivatives
            .GroupBy(record => (record.ParentKey, record.KindKey))
            .Where(pair => pair.Select(record => families[record.SourceKey]).Distinct().Count() > 1)
            .SelectMany(pair => pair
                .GroupBy(record => families[record.SourceKey], StringComparer.Ordinal)
                .Select(family => family.OrderBy(record => record.Key, StringComparer.Ordinal).First()))
            .GroupBy(record => (record.ParentKey, Family: families[record.SourceKey]))
            .OrderBy(of => of.Key.Family, StringComparer.Ordinal)
            .ThenBy(of => of.Key.ParentKey, StringComparer.Ordinal)
            .Select(of => new CrossSourceCase(of.Key.ParentKey, of.Key.Family, [.. of
                .OrderBy(record => record.KindKey, StringComparer.Ordinal)
                .Select(record => new DerivativeReading(
                    record.KindKey,
                    new MeltingRange(record.LowCelsius, record.HighCelsius, record.Decomposes),
                    Preparation.Recrystallised))]))];
    }

    /// <summary>The same cases cut into one for each kind.</summary>
    public static IReadOnlyList<CrossSourceCase> OneKindEach(IEnumerable<CrossSourceCase> cases) =>
        [.. cases.SelectMany(one => one.Readings.Select(reading => one with { Readings = [reading] }))];

    /// <summary>The table without a family.</summary>
    /// <exception cref="InvalidOperationException">A record of the family is left: the test would prove nothing.</exception>
    public static ReferenceTable Without(ReferenceTable table, string family)
    {
        var families = Families(table);
        var reduced = table with
        {
            Derivatives = [.. table.Derivatives
                .Where(record => families[record.SourceKey] != family)
                .Select(record => record with { Verification = ByItself(record.Verification, families[record.SourceKey]) })],
        };
        return reduced.Derivatives.Any(record => families[record.SourceKey] == family)
            ? throw new InvalidOperationException($"A record of the family '{family}' leaks into the table.")
            : reduced;
    }

    /// <summary>Ranks the cases.</summary>
    /// <returns>Each case with its rank, its log loss and the rank by nearest listed value.</returns>
    public static IReadOnlyList<CrossSourceResult> Run(
        ReferenceTable table, ModelSettings settings, IReadOnlyList<CrossSourceCase> cases) =>
        [.. cases
            .GroupBy(one => one.Family, StringComparer.Ordinal)
            .SelectMany(of =>
            {
                var reduced = Without(table, of.Key);
                var snapshot = TableSnapshot.Build(reduced, settings);
                return of.Select(one => Rank(one, snapshot));
            })];

    private static CrossSourceResult Rank(CrossSourceCase one, TableSnapshot snapshot)
    {
        snapshot.TryFindParent(one.ParentKey, out var truth);
        var view = new IdentificationEngine(snapshot).Weigh(new Observation { Derivatives = one.Readings });
        var own = view.Probability[truth];
        var distances = Enumerable.Range(0, snapshot.Parents.Count).Select(parent => Distance(one, parent, snapshot)).ToList();
        return new CrossSourceResult(
            one,
            1 + view.Probability.Count(probability => probability > own),
            -Math.Log(own),
            view.NoneOfThese,
            snapshot.Parents[Top(view)].Key,
            1 + distances.Count(distance => distance < distances[truth])
                + ((distances.Count(distance => distance == distances[truth]) - 1) / 2.0));
    }

    private static int Top(PosteriorView view) =>
        Enumerable.Range(0, view.Probability.Count).MaxBy(parent => view.Probability[parent]);

    private static double Distance(CrossSourceCase one, int parent, TableSnapshot snapshot)
    {
        const double unlisted = 20;
        return one.Readings.Average(reading =>
        {
            var clear = reading.Range!.Value.ClearPointCelsius;
            var nearest = snapshot.Kind(reading.KindKey).Listed.Nearest(parent, clear);
            return nearest is null ? unlisted : Math.Abs(ListedTemperatures.DeviationFrom(nearest, clear));
        });
    }

    private static Verification ByItself(Verification verification, string family) =>
        verification != Verification.CrossChecked ? verification
        : family == Handbooks ? Verification.Recalled
        : Verification.Read;

    private static Dictionary<string, string> Families(ReferenceTable table) =>
        table.Sources.ToDictionary(source => source.Key, source => source.Family, StringComparer.Ordinal);
}

using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Teaching.Grading;

/// <summary>A report weighed by the engine, with everything the criteria ask of it.</summary>
internal sealed class ReadReport
{
    private readonly PosteriorView _view;
    private readonly int[] _order;

    public ReadReport(Report report, Unknown unknown, TableSnapshot snapshot)
    {
        Report = report;
        Snapshot = snapshot;
        Identity = Find(unknown.ParentKey);
        Claim = report.ClaimedParentKey is { } claimed ? Find(claimed) : null;
        var prior = unknown.ShelfKeys.Count == 0
            ? PriorChoice.ByCommonness
            : PriorChoice.OfShelf(unknown.ShelfKeys);
        _view = new IdentificationEngine(snapshot).Weigh(report.Observation with { Prior = prior });

        // The ranking, and after it, with no probability, what is not on the shelf.
        _order = [.. _view.Order.Union(Enumerable.Range(0, snapshot.Parents.Count))];
        var readings = BestReading.Of(report.Observation, snapshot);
        Best = [.. readings.Where(reading => unknown.OffersKind(reading.Kind.Kind.Key))];
        NotOfferedKinds = NotOffered("derivative", readings.Except(Best).Select(reading => reading.Kind.Kind.Name));
        ComparableKinds = snapshot.Kinds.Count(kind => unknown.OffersKind(kind.Kind.Key) && kind.Listed.Of(Identity).Count > 0);
        var tests = Outcomes(report.Observation.SpotTests);
        TestOutcomes = [.. tests.Where(test => unknown.OffersTest(test.TestKey))];
        NotOfferedTests = NotOffered(
            "spot test", tests.Except(TestOutcomes).Select(test => snapshot.SpotTests.Row(test.TestKey).Test.Name));
        OfferedTests = snapshot.SpotTests.Tests.Count(test => unknown.OffersTest(test.Key));
    }

    public Report Report { get; }

    public TableSnapshot Snapshot { get; }

    /// <summary>Index of the compound handed out.</summary>
    public int Identity { get; }

    /// <summary>Index of the compound claimed. Missing: null, none.</summary>
    public int? Claim { get; }

    /// <summary>The most probable compound.</summary>
    public int Leader => _order[0];

    /// <summary>The range that counts of every derivative that the course offers.</summary>
    public IReadOnlyList<BestReading> Best { get; }

    /// <summary>That derivatives reported are none of the course's, as sentences after others; empty where all are.</summary>
    public string NotOfferedKinds { get; }

    /// <summary>Kinds the course offers of which a range is listed for the compound handed out.</summary>
    public int ComparableKinds { get; }

    /// <summary>The tests reported that the course offers, each once. Shape: by key; without those not done.</summary>
    public IReadOnlyList<(string TestKey, SpotTestOutcome Outcome)> TestOutcomes { get; }

    /// <summary>That tests reported are none of the course's, as sentences after others; empty where all are.</summary>
    public string NotOfferedTests { get; }

    /// <summary>Number of tests the course offers.</summary>
    public int OfferedTests { get; }

    /// <summary>Whether the report holds anything the engine can weigh.</summary>
    public bool HasEvidence => _view.HoldsEvidence;

    public string NameOf(int parent) => Snapshot.Parents[parent].Name;

    public double Posterior(int parent) => _view.Probability[parent];

    public int RankOf(int parent) => Array.IndexOf(_order, parent) + 1;

    /// <summary>The compounds that the evidence cannot tell from one, itself included, as the ranking groups them.</summary>
    /// <returns>Shape: indices in order of rank; empty if the compound is in no group.</returns>
    public IReadOnlyList<int> GroupOf(int parent) => _view.Groups.Of(parent);

    /// <summary>The sharpest range of one derivative and preparation, as read; the lower of equals. Missing: null, none.</summary>
    public MeltingRange? Sharpest(string kindKey, Preparation preparation) =>
        Report.Observation.Derivatives
            .Where(reading => reading.KindKey == kindKey && reading.Preparation == preparation)
            .Order(MostCarefulFirst.Order)
            .FirstOrDefault()?.Range;

    private static string NotOffered(string noun, IEnumerable<string> names) => string.Concat(names.Select(name =>
        $" {name} is no {noun} that this course offers, so it earns nothing."));

    private static List<(string TestKey, SpotTestOutcome Outcome)> Outcomes(IEnumerable<SpotTestReading> readings) =>
        [.. readings
            .Where(reading => reading.Outcome != SpotTestOutcome.NotDone)
            .GroupBy(reading => reading.TestKey, StringComparer.Ordinal)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => (group.Key, group.Select(reading => reading.Outcome).Distinct().Count() == 1
                ? group.First().Outcome
                : SpotTestOutcome.Doubtful))];

    private int Find(string key) => Snapshot.TryFindParent(key, out var index)
        ? index
        : throw new ArgumentException($"The table has no parent '{key}'.");
}

/// <summary>The range of one derivative that counts.</summary>
/// <param name="Kind">The derivative kind.</param>
/// <param name="AsRead">The range as read.</param>
/// <param name="Corrected">After the thermometer's correction.</param>
internal sealed record BestReading(KindSnapshot Kind, MeltingRange AsRead, MeltingRange Corrected)
{
    /// <summary>The range listed for a compound that is nearest to the clear point. Missing: null, none is listed.</summary>
    public ListedTemperature? NearestListed(int parent) =>
        Kind.Listed.Nearest(parent, Corrected.ClearPointCelsius);

    /// <summary>How far the clear point lies from a range. Units: °C.</summary>
    public double AwayFrom(ListedTemperature listed) =>
        Math.Abs(ListedTemperatures.DeviationFrom(listed, Corrected.ClearPointCelsius));

    /// <summary>The range that counts of every derivative of an observation. Shape: in order of the kinds' keys.</summary>
    public static IReadOnlyList<BestReading> Of(Observation observation, TableSnapshot snapshot) =>
        [.. observation.Derivatives
            .Where(reading => reading.Range is not null)
            .GroupBy(reading => reading.KindKey, StringComparer.Ordinal)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => (group.Key, Range: group.Order(MostCarefulFirst.Order).First().Range!.Value))
            .Select(item => new BestReading(
                snapshot.Kind(item.Key), item.Range, observation.Thermometer.Apply(item.Range)))];
}

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

    /// <param name="report">The report.</param>
    /// <param name="unknown">What was handed out, and what the course offers.</param>
    /// <param name="farthestCelsius">See <see cref="Rubric.FarthestCelsius"/>.</param>
    /// <param name="snapshot">The table.</param>
    public ReadReport(Report report, Unknown unknown, double farthestCelsius, TableSnapshot snapshot)
    {
        Report = report;
        Snapshot = snapshot;
        Identity = Find(unknown.ParentKey);
        Claim = report.ClaimedParentKey is { } claimed ? Find(claimed) : null;
        var prior = unknown.ShelfKeys.Count == 0
            ? PriorChoice.ByCommonness
            : PriorChoice.OfShelf(unknown.ShelfKeys);
        ComparableKinds = snapshot.Kinds.Count(kind => unknown.OffersKind(kind.Kind.Key) && kind.Listed.Of(Identity).Count > 0);
        var readings = BestReading.Of(report.Observation, snapshot);
        Best = [.. readings.Where(reading => unknown.OffersKind(reading.Kind.Kind.Key))];
        NotOfferedKinds = NotOffered("derivative", readings.Except(Best).Select(reading => reading.Kind.Kind.Name));
        var counting = Counting(unknown, farthestCelsius);
        (Ranges, FarOff) = (counting.Ranges, counting.FarOff);
        var engine = new IdentificationEngine(snapshot);
        _view = engine.Weigh(counting.Observation with { Prior = prior });
        AlikeToIdentity = engine.Weigh(counting.Offered with { Prior = prior }).Groups.Of(Identity);

        // The ranking, and after it, with no probability, what is not on the shelf.
        _order = [.. _view.Order.Union(Enumerable.Range(0, snapshot.Parents.Count))];
        var tests = Outcomes(report.Observation.SpotTests);
        TestOutcomes = [.. tests.Where(test => unknown.OffersTest(test.TestKey))];
        NotOfferedTests = NotOffered(
            "spot test", tests.Except(TestOutcomes).Select(test => snapshot.SpotTests.Row(test.TestKey).Test.Name));
        OfferedTestKeys = [.. snapshot.SpotTests.Tests.Select(test => test.Key).Where(unknown.OffersTest)];
        Shelf = unknown.ShelfKeys.Count == 0 ? [.. Enumerable.Range(0, snapshot.Parents.Count)] : [.. unknown.ShelfKeys.Select(Find)];
    }

    public Report Report { get; }

    public TableSnapshot Snapshot { get; }

    /// <summary>Index of the compound handed out.</summary>
    public int Identity { get; }

    /// <summary>Index of the compound claimed. Missing: null, none.</summary>
    public int? Claim { get; }

    /// <summary>
    /// The compounds that all the evidence of what the course offers cannot tell from the one handed out, which is one of them, as the ranking
    /// groups them. Shape: indices in order of rank; empty if it is in no group.
    /// </summary>
    public IReadOnlyList<int> AlikeToIdentity { get; }

    /// <summary>The most probable compound by the evidence that counts, as with all that follows from it.</summary>
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

    /// <summary>The tests that the course offers, by key.</summary>
    public IReadOnlyList<string> OfferedTestKeys { get; }

    /// <summary>What the compound handed out was taken from. Shape: indices; all of the table without a shelf list.</summary>
    public IReadOnlyList<int> Shelf { get; }

    /// <summary>Number of ranges, of the course's derivatives and of the unknown itself.</summary>
    public int Ranges { get; }

    /// <summary>Number of them that could not be of the compound handed out and were not weighed.</summary>
    public int FarOff { get; }

    /// <summary>Whether the report holds anything that counts and the engine can weigh.</summary>
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

    /// <summary>
    /// The evidence that can bear a claim out: of what the course offers, what could be of the compound handed out. Whole reports
    /// are easily made up around any compound, and then bear each other out better than honest ones do.
    /// </summary>
    /// <remarks>
    /// Of no account are kinds and tests that are no part of the course, molar masses and elements, which none offers. What could
    /// not be of the compound: a range, the unknown's own too, farther than allowed from those listed, or with nothing to hold it
    /// against although a derivative of the course has something; and a test that turned out otherwise than expected.
    /// </remarks>
    private (Observation Observation, Observation Offered, int Ranges, int FarOff) Counting(Unknown unknown, double farthestCelsius)
    {
        var all = Report.Observation;
        var derivatives = all.Derivatives.Where(reading => unknown.OffersKind(reading.KindKey)).ToList();
        var tests = all.SpotTests.Where(reading => unknown.OffersTest(reading.TestKey)).ToList();
        var farOff = Best.Where(reading => !CouldBe(reading.Kind.Listed, reading.Corrected)).Select(reading => reading.Kind.Kind.Key).ToHashSet(StringComparer.Ordinal);
        var offered = all with { Derivatives = derivatives, SpotTests = tests, MolarMass = null, Elements = [] };
        var counting = offered with
        {
            // Of each kind the range that is weighed tells: of many ranges one would always be near something.
            Derivatives = derivatives.FindAll(reading => !farOff.Contains(reading.KindKey)),
            SpotTests = tests.FindAll(reading => reading.Outcome is not (SpotTestOutcome.Positive or SpotTestOutcome.Negative)
                || Snapshot.SpotTests.Expected(reading.TestKey, Identity) is var expected
                && (expected == reading.Outcome || expected == SpotTestOutcome.Doubtful)),
            BoilingPoint = all.BoilingPoint is { } boiling
                && CouldBe(Snapshot.BoilingPoints, PressureCorrection.ToStandard(all.Thermometer.Apply(boiling.Range), boiling.PressureKilopascals))
                ? boiling
                : null,
            MeltingPoint = all.MeltingPoint is { } melting && CouldBe(Snapshot.MeltingPoints, all.Thermometer.Apply(melting)) ? melting : null,
        };
        return (counting, offered, Count(offered), Count(offered) - Count(counting));

        bool CouldBe(ListedTemperatures listed, MeltingRange corrected) =>
            listed.Nearest(Identity, corrected.ClearPointCelsius) is { } nearest
                ? Math.Abs(ListedTemperatures.DeviationFrom(nearest, corrected.ClearPointCelsius)) <= farthestCelsius
                : ComparableKinds == 0;

        // Crude and recrystallised crystals of one kind count as one, since one of them is weighed.
        static int Count(Observation observation) =>
            observation.Derivatives.Where(reading => reading.Range is not null).DistinctBy(reading => reading.KindKey, StringComparer.Ordinal).Count()
            + (observation.BoilingPoint is null ? 0 : 1)
            + (observation.MeltingPoint is null ? 0 : 1);
    }

    private static string NotOffered(string noun, IEnumerable<string> names) =>
        string.Concat(names.Select(name => StudentSentences.NotOffered(noun, name)));

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

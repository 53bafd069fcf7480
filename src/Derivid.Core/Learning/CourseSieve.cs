using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Ranking.Likelihoods;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.ClassView;

namespace Derivid.Core.Learning;

/// <summary>Counts the reports of a course, without those that are of another compound than their label says.</summary>
/// <remarks>
/// A piece of a report counts if, by everything else that was seen, the label is more likely right than not. "Everything
/// else" is weighed by the engine's own likelihoods, the piece itself and its like in the other reports of the bottle left out, so that no
/// outcome decides whether it is counted itself. Where one outcome brings pieces with it and the other doesn't, these are left out too: crystals that came have a
/// melting range, which could refute the label, and those that never came have none, so that failures would stay in more often.
/// The course's share of wrong vials, and whether the course counts, go by all pieces, so that an outcome weighs there as one of some hundreds. Two things may be wrong: the bottle that a compound was filled from, when all
/// of its reports are of one other parent; or one vial, which is then any parent. Shares of both: chosen at first; that of vials
/// is then fitted to the course by expectation and maximisation. A course of which most vials are wrong doesn't count, nor one whose
/// clear points lie nearer to the printed values than a calibrated thermometer and an eye can read.
/// Thread safety: immutable.
/// </remarks>
/// <param name="snapshot">The table and settings that the reports are judged by.</param>
public sealed class CourseSieve(TableSnapshot snapshot)
{
    /// <summary>Readings of one cell this far from its median are outliers. Units: °C. Chosen: five times a usual spread.</summary>
    public const double WindowCelsius = 10;

    // Chosen; moves little when halved or doubled, since reports of three pieces or more tell clearly.
    private const double WrongBottleShare = 0.03;

    // Mean of the prior of wrong vials, and how many reports it is worth. Chosen.
    private const double WrongVialShare = 0.05;
    private const double WrongVialWorth = 20;

    private const int Rounds = 20;

    // Cells of melting ranges that a course has to have before it can be called copied. Chosen.
    private const int LeastCells = 5;

    private readonly int _ranks = snapshot.Table.Colours.Count(colour => colour.Rank is not null);
    private readonly Dictionary<string, int?> _rankByKey = snapshot.Table.Colours.ToDictionary(
        colour => colour.Key, colour => colour.Rank, StringComparer.Ordinal);

    /// <summary>Counts a course.</summary>
    /// <param name="course">The course.</param>
    /// <exception cref="ArgumentException">A report names a parent, kind, test or colour that the table does not have.</exception>
    public CourseTally Tally(ClosedCourse course)
    {
        ArgumentNullException.ThrowIfNull(course);
        var bottles = course.Reports
            .GroupBy(report => report.ParentKey, StringComparer.Ordinal)
            .Where(group => group.DistinctBy(report => report.Student).Count() >= CourseTally.LeastStudents)
            .OrderBy(group => group.Key, StringComparer.Ordinal)
            .Select(group => new Bottle(group.Key, IndexOf(group.Key), [.. group.Select(report => new WeighedReport(report, Weigh(report)))]))
            .ToList();
        var wrong = WrongVials([.. bottles.SelectMany(bottle => bottle.Reports.Select(report => WeighedReport.LogRatio(bottle.Parent, report.Likelihoods)))]);
        if (bottles.Count > 0 && wrong > 0.5)
        {
            return new CourseTally([], CourseVerdict.DoesNotFit);
        }

        var compounds = bottles.Select(bottle => Count(bottle, wrong)).ToList();
        return IsCopied(compounds)
            ? new CourseTally([], CourseVerdict.Copied)
            : new CourseTally(compounds, CourseVerdict.Counts);
    }

    private int IndexOf(string key) => snapshot.TryFindParent(key, out var parent)
        ? parent
        : throw new ArgumentException($"The table has no parent '{key}'.", nameof(key));

    private IReadOnlyList<ParentLikelihoods> Weigh(KnownReport report) =>
        WeighedObservation.Weigh(report.Observation, snapshot).Likelihoods;

    /// <summary>The share of vials that hold something else, by expectation and maximisation.</summary>
    private static double WrongVials(IReadOnlyList<double> logRatios)
    {
        var wrong = WrongVialShare;
        for (var round = 0; round < Rounds; round++)
        {
            wrong = ((WrongVialShare * WrongVialWorth) + logRatios.Sum(ratio => WrongOf(ratio, wrong))) / (WrongVialWorth + logRatios.Count);
        }

        return wrong;
    }

    private static double WrongOf(double logRatio, double wrong) => wrong / (wrong + ((1 - wrong) * Math.Exp(Math.Min(logRatio, 700))));

    private CompoundTally Count(Bottle bottle, double wrong)
    {
        var kept = new Dictionary<Piece, IReadOnlyList<WeighedReport>>();
        IReadOnlyList<WeighedReport> Kept(EvidenceKind kind, string subject)
        {
            var piece = new Piece(kind, subject);
            if (!kept.TryGetValue(piece, out var reports))
            {
                kept[piece] = reports = [.. bottle.Reports.Where(report => IsBottleRight(bottle, wrong, piece)
                    && WrongOf(WeighedReport.LogRatio(bottle.Parent, Without(report, piece)), wrong) < 0.5)];
            }

            return reports;
        }

        return new CompoundTally(
            bottle.ParentKey,
            [.. SpotTests(Kept)],
            [.. Colours(Kept)],
            [.. Meltings(Kept)],
            [.. Precipitates(Kept)]);
    }

    /// <summary>Whether the bottle holds its label's compound, rather than one other parent, by all pieces but one.</summary>
    private bool IsBottleRight(Bottle bottle, double wrong, Piece without)
    {
        if (bottle.IsRight.TryGetValue(without, out var known))
        {
            return known;
        }

        var logs = new double[snapshot.Parents.Count];
        foreach (var report in bottle.Reports)
        {
            var left = Without(report, without);
            for (var parent = 0; parent < logs.Length; parent++)
            {
                logs[parent] += Math.Log(wrong + ((1 - wrong) * Math.Exp(Math.Clamp(WeighedReport.LogRatio(parent, left), -700, 700))));
            }
        }

        var own = logs[bottle.Parent];
        var others = logs.Where((_, parent) => parent != bottle.Parent).Sum(log => Math.Exp(Math.Clamp(log - own, -700, 700))) / (logs.Length - 1);
        return bottle.IsRight[without] = WrongBottleShare * others < 1 - WrongBottleShare;
    }

    private List<ParentLikelihoods> Without(WeighedReport report, Piece piece) =>
        [.. report.Likelihoods.Where(likelihood => !IsOf(likelihood, piece))];

    /// <summary>Whether a piece is the one that is counted, or would not be there had that turned out otherwise.</summary>
    private bool IsOf(ParentLikelihoods likelihood, Piece piece)
    {
        if (likelihood.Kind == piece.Kind && likelihood.Subject == piece.Subject)
        {
            return true;
        }

        // A test that is a derivative's reagent brings the derivative with it, or doesn't.
        return piece.Kind switch
        {
            EvidenceKind.Precipitate => piece.Subject is { } kindKey && IsOfKind(likelihood, kindKey),
            EvidenceKind.SpotTests => snapshot.Kinds.Any(kind =>
                QuestionOf(kind) == piece.Subject && IsOfKind(likelihood, kind.Kind.Key)),
            _ => false,
        };
    }

    private string? QuestionOf(KindSnapshot kind) =>
        kind.Precipitates.TestKey is { } test ? snapshot.SpotTests.Row(test).Test.QuestionKey : null;

    private bool IsOfKind(ParentLikelihoods likelihood, string kindKey) => likelihood.Kind switch
    {
        EvidenceKind.DerivativeMeltingRange or EvidenceKind.Precipitate or EvidenceKind.PrecipitateTime
            or EvidenceKind.DerivativeColour or EvidenceKind.MixedMelting => likelihood.Subject == kindKey,
        EvidenceKind.SpotTests => QuestionOf(snapshot.Kind(kindKey)) == likelihood.Subject,
        _ => false,
    };

    private static bool AreEnough(IEnumerable<WeighedReport> reports) =>
        reports.DistinctBy(report => report.Student).Count() >= CourseTally.LeastStudents;

    private IEnumerable<SpotTestTally> SpotTests(Func<EvidenceKind, string, IReadOnlyList<WeighedReport>> kept) =>
        from test in snapshot.SpotTests.Tests
        let told = (
            from report in kept(EvidenceKind.SpotTests, test.QuestionKey)
            from reading in report.Observation.SpotTests.Where(reading => reading.TestKey == test.Key).Take(1)
            where reading.Outcome is SpotTestOutcome.Positive or SpotTestOutcome.Negative
            select (Report: report, IsPositive: reading.Outcome == SpotTestOutcome.Positive)).ToList()
        where AreEnough(told.Select(one => one.Report))
        select new SpotTestTally(test.Key, told.Count(one => one.IsPositive), told.Count(one => !one.IsPositive));

    private IEnumerable<ColourTally> Colours(Func<EvidenceKind, string, IReadOnlyList<WeighedReport>> kept)
    {
        foreach (var kind in snapshot.Kinds.Where(kind => kind.Colours is not null))
        {
            var calls = new int[_ranks];
            var callers = new List<WeighedReport>();
            foreach (var report in kept(EvidenceKind.DerivativeColour, kind.Kind.Key))
            {
                if (Readings(report, kind).Select(reading => reading.ColourKey).FirstOrDefault(key => key is not null) is { } called
                    && _rankByKey[called] is { } rank)
                {
                    calls[rank]++;
                    callers.Add(report);
                }
            }

            if (AreEnough(callers))
            {
                yield return new ColourTally(kind.Kind.Key, calls);
            }
        }
    }

    private IEnumerable<MeltingTally> Meltings(Func<EvidenceKind, string, IReadOnlyList<WeighedReport>> kept) =>
        from kind in snapshot.Kinds
        from cell in kept(EvidenceKind.DerivativeMeltingRange, kind.Kind.Key)
            .Select(report => (Report: report, report.Observation.Thermometer, Reading: Readings(report, kind).FirstOrDefault(reading => reading.Range is not null)))
            .Where(read => read.Reading is not null)
            .Select(read => (read.Report, read.Reading!.Preparation, Used: read.Thermometer.Apply(read.Reading.Range!.Value), read.Thermometer))
            .GroupBy(read => (read.Preparation, IsCalibrated: read.Thermometer.CheckAt(read.Used.ClearPointCelsius) is not null))
            .OrderBy(cell => cell.Key.Preparation).ThenBy(cell => cell.Key.IsCalibrated)
        let median = Robust.Median(cell.Select(read => read.Used.ClearPointCelsius))
        let near = cell.Where(read => Math.Abs(read.Used.ClearPointCelsius - median) <= WindowCelsius).ToList()
        where AreEnough(near.Select(read => read.Report))
        select new MeltingTally(
            kind.Kind.Key,
            cell.Key.Preparation,
            cell.Key.IsCalibrated,
            Moments.Of([.. near.Select(read => read.Used.ClearPointCelsius)]),
            Moments.Of([.. near.Select(read => read.Used.SpanCelsius)]));

    private IEnumerable<PrecipitateTally> Precipitates(Func<EvidenceKind, string, IReadOnlyList<WeighedReport>> kept) =>
        from kind in snapshot.Kinds
        let told = (
            from report in kept(EvidenceKind.Precipitate, kind.Kind.Key)
            let came = Readings(report, kind).Select(reading => reading.Came).Min()
            where came is not null
            select (Report: report, IsNothing: came == Precipitate.None)).ToList()
        where AreEnough(told.Select(one => one.Report))
        select new PrecipitateTally(kind.Kind.Key, told.Count(one => !one.IsNothing), told.Count(one => one.IsNothing));

    private static IEnumerable<DerivativeReading> Readings(WeighedReport report, KindSnapshot kind) => report.Observation.Derivatives
        .Where(reading => reading.KindKey == kind.Kind.Key)
        .Order(MostCarefulFirst.Order);

    /// <summary>
    /// Whether the readings of the middle cell are nearer to the printed value than thermometer and eye allow. A class that
    /// writes down the book with a degree of noise is not seen.
    /// </summary>
    private bool IsCopied(IReadOnlyList<CompoundTally> compounds)
    {
        var away = (
            from compound in compounds
            from cell in compound.Meltings
            let nearest = snapshot.Kind(cell.KindKey).Listed.Nearest(IndexOf(compound.ParentKey), cell.ClearPoint.Mean)
            where nearest is not null
            let off = ListedTemperatures.DeviationFrom(nearest, cell.ClearPoint.Mean)
            select Math.Sqrt((off * off) + (cell.ClearPoint.Spread * cell.ClearPoint.Spread))).ToList();
        var (care, reader) = (snapshot.Settings.Care, snapshot.Settings.DerivativeMelting.ReadingCelsius);
        return away.Count >= LeastCells
            && Robust.Median(away) < Math.Sqrt((care.CalibratedCelsius * care.CalibratedCelsius) + (reader * reader));
    }

    /// <summary>A sort of evidence and what it is about.</summary>
    private readonly record struct Piece(EvidenceKind Kind, string? Subject);

    private sealed record Bottle(string ParentKey, int Parent, IReadOnlyList<WeighedReport> Reports)
    {
        public Dictionary<Piece, bool> IsRight { get; } = [];
    }

    private sealed class WeighedReport(KnownReport report, IReadOnlyList<ParentLikelihoods> likelihoods)
    {
        public Observation Observation => report.Observation;

        public int Student => report.Student;

        public IReadOnlyList<ParentLikelihoods> Likelihoods => likelihoods;

        /// <summary>Log likelihood ratio of a parent against one drawn at random, by some pieces.</summary>
        public static double LogRatio(int parent, IReadOnlyList<ParentLikelihoods> pieces)
        {
            var sum = 0.0;
            foreach (var piece in pieces)
            {
                sum += piece.LogRatio(parent);
            }

            return sum;
        }
    }
}

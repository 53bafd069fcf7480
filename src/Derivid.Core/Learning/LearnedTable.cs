using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Learning;

/// <summary>What table and settings would become of what was learned: the rows of a proposal, and nothing is changed by it.</summary>
/// <remarks>
/// Only rows of which something was counted are changed. A compound gets a row of its own in a test where its class's rate
/// lies outside the compound's 90 % interval. A figure that was assumed stays assumed until what was counted weighs more than what was assumed; its note
/// says what both weigh. Thread safety: immutable.
/// </remarks>
/// <param name="Responses">All rows of spot-test responses, as they would be. Shape: by test and order, without gaps.</param>
/// <param name="ColourExpectations">All rows of colours expected, as they would be.</param>
/// <param name="Measured">What classes measured, as records of the table. Shape: by parent and kind, one of each.</param>
/// <param name="Settings">The model's numbers, under the version they have: whoever releases them raises it.</param>
public sealed record LearnedTable(
    IReadOnlyList<SpotTestResponse> Responses,
    IReadOnlyList<ColourExpectation> ColourExpectations,
    IReadOnlyList<Derivative> Measured,
    ModelSettings Settings)
{
    // Nothing is certain: the least that the table's rules let a rate, and the share of a colour, be; and a share of the settings. Chosen.
    private const double LeastRate = 0.02;
    private const double LeastShare = 0.02;

    // Figures of the table.
    private const int Decimals = 3;

    // The least that a thermometer or a depression is let err. Units: °C. Chosen.
    private const double LeastCelsius = 0.1;

    // Impure shares no further apart tell nothing of the depression that parts them. Chosen.
    private const double LeastDifference = 0.1;

    // What the table's rules count to.
    private const int MostDeterminations = 1000;

    /// <summary>The source of all that classes taught.</summary>
    public static Source Source { get; } = new(
        "learned-from-classes",
        "Readings of classes whose unknowns were known by then, counted over at least two courses and five students in each; rates and colours shrunk to what was assumed, as each note says",
        null,
        SourceGrade.Measured,
        "learned-from-classes",
        SourceReading.None);

    /// <summary>Works it out.</summary>
    /// <param name="learning">What was learned.</param>
    /// <param name="sourceKey">Source that the changed rows would cite.</param>
    public static LearnedTable Of(ClassLearning learning, string sourceKey)
    {
        ArgumentNullException.ThrowIfNull(learning);
        ArgumentException.ThrowIfNullOrEmpty(sourceKey);
        var snapshot = learning.Snapshot;
        return new LearnedTable(
            [.. ResponsesOf(learning, sourceKey)],
            [.. snapshot.Table.ColourExpectations.Select(row => Changed(row, learning, sourceKey))],
            [.. MeasuredOf(learning, sourceKey)],
            SettingsOf(learning, snapshot.Settings));
    }

    /// <summary>The table with these rows in place of its own.</summary>
    /// <param name="table">The table that was learned beside.</param>
    public ReferenceTable In(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return table with { Responses = Responses, ColourExpectations = ColourExpectations };
    }

    /// <summary>The table that a proposal would make: rates, colours and measured values, and no setting.</summary>
    /// <remarks>What classes taught before and don't any more is taken back.</remarks>
    /// <param name="table">The table as it is, what classes taught before in it.</param>
    /// <returns>The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</returns>
    public ReferenceTable Proposed(ReferenceTable table)
    {
        var rows = In(table);
        return (rows with
        {
            Derivatives = [.. table.Derivatives.Where(record => record.SourceKey != Source.Key), .. Measured],
            Sources = table.Sources.Any(source => source.Key == Source.Key)
                || !(Measured.Count > 0 || Responses.Any(row => row.SourceKey == Source.Key) || ColourExpectations.Any(row => row.SourceKey == Source.Key))
                ? table.Sources
                : [.. table.Sources, Source],
        }).Ordered();
    }

    /// <summary>Share of mixings that work by the settings.</summary>
    internal static double WorksOf(PrecipitateBehaviour behaviour, PrecipitateSettings settings) => behaviour switch
    {
        PrecipitateBehaviour.Ready => settings.ReadyShare,
        PrecipitateBehaviour.Slow => settings.SlowShare,
        PrecipitateBehaviour.ClosesRing => settings.RingClosingShare,
        _ => settings.FalseShare,
    };

    private static IEnumerable<SpotTestResponse> ResponsesOf(ClassLearning learning, string sourceKey)
    {
        var table = learning.Snapshot.Table;
        var learned = learning.SpotTests.Classes.ToDictionary(one => one.Key, StringComparer.Ordinal);
        foreach (var rows in table.Responses.GroupBy(row => row.TestKey, StringComparer.Ordinal))
        {
            var test = learning.Snapshot.SpotTests.Row(rows.Key);
            var changed = new List<SpotTestResponse>();
            var exceptions = new List<SpotTestResponse>();
            foreach (var row in rows.OrderBy(row => row.Order))
            {
                if (!learned.TryGetValue(ClassLearning.KeyOf(row), out var rate) || rate.Compounds.Count == 0)
                {
                    changed.Add(row);
                    continue;
                }

                changed.Add(Changed(row, rate.Rate, new Told(learning, rate.Compounds, learning.SpotTests.ClassWorth, rate.Weight), test, sourceKey));
                exceptions.AddRange(rate.Compounds
                    .Where(compound => RespondingClass.ParentOf(row.AppliesTo) is null && !compound.Rate.Holds(rate.Rate.Mean))
                    .Select(compound => Changed(row with { AppliesTo = $"parent:{compound.Key}" }, compound.Rate, ToldOf(compound, rate, learning), test, sourceKey)));
            }

            foreach (var (index, row) in exceptions.OrderBy(row => row.AppliesTo, StringComparer.Ordinal).Concat(changed).Index())
            {
                yield return row with { Order = index + 1 };
            }
        }
    }

    /// <summary>A compound's class is to it what an assumed rate is to a class; as much of that as was counted is no assumption.</summary>
    private static Told ToldOf(LearnedCompound compound, LearnedClass of, ClassLearning learning)
    {
        var rates = learning.SpotTests;
        var counted = of.Weight / (of.Weight + rates.ClassWorth);
        return new Told(learning, [compound], rates.CompoundWorth * (1 - counted), compound.Counted + (rates.CompoundWorth * counted));
    }

    /// <summary>A row with the rate of a clean sample that gives the one learned, turned samples counted.</summary>
    private static SpotTestResponse Changed(
        SpotTestResponse row, LearnedFigure rate, Told of, SpotTestTable.TestRow test, string sourceKey)
    {
        var contrary = row.AnswersYes ? test.Test.PositiveRateIfNo : test.Test.PositiveRateIfYes;
        var turned = test.Question.ContraryRate;
        var clean = (rate.Mean - (turned * contrary)) / (1 - turned);
        var learned = Math.Round(Math.Clamp(clean, LeastRate, 1 - LeastRate), Decimals);
        return row with
        {
            PositiveRate = learned,
            IsAssumed = row.IsAssumed && of.Weight <= of.Worth,
            SourceKey = sourceKey,
            Note = Noted(row.Note, $"{Figure.Text(row.PositiveRate, Decimals)} before, {Figure.Text(learned, Decimals)} after; positive {Figure.Text(rate.Mean, decimals: 2)} ({Figure.Text(rate.Low, decimals: 2)} to {Figure.Text(rate.High, decimals: 2)}) by {of.Compounds.Sum(one => one.Counted)} reports of {Compounds(of.Compounds.Count)} in {of.CoursesOf(row.TestKey)}; {Weighed(of.Worth, of.Weight)}"),
        };
    }

    private static string Weighed(double worth, double weight) =>
        $"what was assumed weighs {Figure.Text(worth, decimals: 1)} reports, what was counted {Figure.Text(weight, decimals: 1)}";

    private static string Compounds(int count) => count == 1 ? "one compound" : FormattableString.Invariant($"{count} compounds");

    private static string Noted(string? note, string learned) =>
        string.IsNullOrEmpty(note) ? $"Learned from classes: {learned}" : $"{note}; learned from classes: {learned}";

    private static ColourExpectation Changed(ColourExpectation row, ClassLearning learning, string sourceKey)
    {
        var colours = learning.Colours[row.KindKey];
        if (colours.Classes.FirstOrDefault(one => one.Key == row.StructureClass) is not { Compounds.Count: > 0 } learned)
        {
            return row;
        }

        var keys = learned.Compounds.Select(compound => compound.Key).ToHashSet(StringComparer.Ordinal);
        var courses = learning.Courses.Count(course => course.Compounds.Any(compound => keys.Contains(compound.ParentKey) && compound.Colours.Any(tally => tally.KindKey == row.KindKey)));
        return row with
        {
            Weights = Rounded(learned.Weights),
            IsAssumed = row.IsAssumed && learned.Weight <= colours.ClassWorth,
            SourceKey = sourceKey,
            Note = Noted(row.Note, $"{string.Join(';', row.Weights.Select(weight => Figure.Text(weight, Decimals)))} before; {learned.Counted} calls of {Compounds(learned.Compounds.Count)} in {Figure.Count(courses, "course")}; {Weighed(colours.ClassWorth, learned.Weight)}"),
        };
    }

    /// <summary>Shares as the table's rules want them: none below the least, summing to 1 as written.</summary>
    private static double[] Rounded(IReadOnlyList<double> shares)
    {
        var (floors, rest) = (shares.Count(share => share < LeastRate) * LeastRate, shares.Where(share => share >= LeastRate).Sum());
        double[] rounded = [.. shares.Select(share => Math.Max(LeastRate, Math.Round(share * (1 - floors) / rest, Decimals)))];
        var most = Array.IndexOf(rounded, rounded.Max());
        rounded[most] = Math.Round(rounded[most] + 1 - rounded.Sum(), Decimals);
        return rounded;
    }

    /// <summary>Whether what classes melted would become a record: purified crystals, and thermometers that had been checked.</summary>
    /// <remarks>The rest says more of a laboratory than of a compound.</remarks>
    /// <param name="melted">What they melted.</param>
    public static bool IsProposed(MeasuredMelting melted)
    {
        ArgumentNullException.ThrowIfNull(melted);
        return melted.Preparation == Preparation.Recrystallised && melted.IsCalibrated;
    }

    /// <summary>What classes melted, as records.</summary>
    /// <remarks>
    /// The ranking holds readings against a record's upper end, so that is the mean clear point. The lower stands two standard deviations below, and
    /// is nobody's reading; nor does a record say who read highest.
    /// </remarks>
    private static IEnumerable<Derivative> MeasuredOf(ClassLearning learning, string sourceKey) =>
        from melted in learning.Measured
        where IsProposed(melted)
        let mean = Math.Round(melted.ClearPointCelsius.Mean, 1)
        let spread = Math.Round(melted.SampleSpreadCelsius, 2)
        let low = Math.Round(Math.Floor((mean - (2 * spread)) * 10) / 10, 1)
        let kind = learning.Snapshot.Kind(melted.KindKey).Kind
        let nearest = learning.Snapshot.Table.Derivatives
            .Where(record => record.ParentKey == melted.ParentKey && record.KindKey == melted.KindKey)
            .MinBy(record => Math.Abs(record.HighCelsius - mean))
        select new Derivative
        {
            Key = $"{melted.ParentKey}-{melted.KindKey}-classes",
            ParentKey = melted.ParentKey,
            KindKey = melted.KindKey,
            CarbonylsCondensed = nearest?.CarbonylsCondensed ?? 1,
            LowCelsius = low,
            HighCelsius = mean,
            IsUnusual = low < kind.UsualLowCelsius || mean > kind.UsualHighCelsius,
            SourceKey = sourceKey,
            Verification = Verification.Measured,
            MeasuredBy = $"students of {melted.Courses} courses",
            Instrument = "thermometers that had been checked on standards",
            Determinations = Math.Min(melted.Count, MostDeterminations),
            MeanCelsius = mean,
            SpreadCelsius = spread,
            Note = $"Learned from classes: recrystallised; {melted.Count} readings, the upper end is their mean ({Figure.Text(melted.ClearPointCelsius.Low, decimals: 1)} to {Figure.Text(melted.ClearPointCelsius.High, decimals: 1)}), the lower two standard deviations below; what impurity was left is in it",
        };

    private static ModelSettings SettingsOf(ClassLearning learning, ModelSettings assumed) => assumed with
    {
        Colour = learning.Colours.Values.FirstOrDefault(colours => colours.Classes.Count > 0) is { } called
            ? assumed.Colour with { RecordedShare = called.RecordedShare }
            : assumed.Colour,
        Precipitate = Works(learning.Failures, assumed.Precipitate),
        Depression = DepressionOf(learning.Readings, assumed),
        Care = CareOf(learning.Readings, assumed with { Depression = DepressionOf(learning.Readings, assumed) }),
    };

    private static PrecipitateSettings Works(TwoLevelRates failures, PrecipitateSettings assumed)
    {
        double Of(PrecipitateBehaviour behaviour) =>
            failures.Classes.FirstOrDefault(one => one.Key == behaviour.ToString()) is { Compounds.Count: > 0 } learned
                ? Math.Clamp(1 - (learned.Rate.Mean / (1 - assumed.OilShare)), LeastShare, 1 - LeastShare)
                : WorksOf(behaviour, assumed);
        return assumed with
        {
            ReadyShare = Of(PrecipitateBehaviour.Ready),
            SlowShare = Of(PrecipitateBehaviour.Slow),
            RingClosingShare = Of(PrecipitateBehaviour.ClosesRing),
        };
    }

    /// <summary>Shares of impure samples by the mean widths, the depression they have by how far crude crystals melt lower.</summary>
    private static DepressionSettings DepressionOf(ReadingLearning readings, ModelSettings settings)
    {
        var assumed = settings.Depression;
        double Share(Preparation preparation)
        {
            var cells = readings.Preparations.Where(one => one.Preparation == preparation).ToList();
            if (cells.Count == 0)
            {
                return ReadingLearning.ImpureShare(settings, preparation);
            }

            var span = cells.Sum(one => one.SpanCelsius.Mean * one.Readings) / cells.Sum(one => one.Readings);
            return Math.Clamp(
                (span - assumed.PureSpanCelsius) / (assumed.ImpureSpanCelsius - assumed.PureSpanCelsius), LeastShare, 1 - LeastShare);
        }

        var (pure, crude) = (Share(Preparation.Recrystallised), Share(Preparation.Crude));
        var lowest = readings.CrudeDepressionCelsius is { } depression && crude - pure > LeastDifference
            ? Math.Max(LeastCelsius, (depression.Mean / (crude - pure)) - (assumed.PerSpanCelsius * assumed.ImpureSpanCelsius))
            : assumed.BaseCelsius;
        return assumed with
        {
            ImpureShareRecrystallised = pure,
            ImpureShareUnstated = Share(Preparation.Unstated),
            ImpureShareCrude = crude,
            BaseCelsius = lowest,
        };
    }

    /// <summary>What is left of the spread of recrystallised readings once reader and depression are taken out is the thermometers'.</summary>
    private static CareSettings CareOf(ReadingLearning readings, ModelSettings settings)
    {
        double Thermometer(bool isCalibrated, double assumed)
        {
            if (readings.Preparations.FirstOrDefault(one =>
                one.Preparation == Preparation.Recrystallised && one.IsCalibrated == isCalibrated) is not { } read)
            {
                return assumed;
            }

            var reader = settings.Care.ReaderCelsius(settings.DerivativeMelting.ReadingCelsius, read.SpanCelsius.Mean);
            var left = (read.SpreadCelsius.Mean * read.SpreadCelsius.Mean) - (reader * reader)
                - ReadingLearning.DepressionVariance(settings, settings.Depression.ImpureShareRecrystallised);
            return Math.Sqrt(Math.Max(left, LeastCelsius * LeastCelsius));
        }

        var calibrated = Thermometer(true, settings.Care.CalibratedCelsius);
        return settings.Care with
        {
            CalibratedCelsius = calibrated,
            UncheckedCelsius = Math.Max(calibrated, Thermometer(false, settings.Care.UncheckedCelsius)),
        };
    }

    /// <summary>What a figure rests on: compounds, and what was assumed and what was counted weigh. Units: reports.</summary>
    private sealed record Told(ClassLearning Learning, IReadOnlyList<LearnedCompound> Compounds, double Worth, double Weight)
    {
        public string CoursesOf(string testKey)
        {
            var keys = Compounds.Select(compound => compound.Key).ToHashSet(StringComparer.Ordinal);
            return Figure.Count(
                Learning.Courses.Count(course => course.Compounds.Any(compound => keys.Contains(compound.ParentKey) && compound.SpotTests.Any(test => test.TestKey == testKey))),
                "course");
        }
    }
}

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
/// <param name="Settings">The model's numbers, under the version they have: whoever releases them raises it.</param>
public sealed record LearnedTable(
    IReadOnlyList<SpotTestResponse> Responses, IReadOnlyList<ColourExpectation> ColourExpectations, ModelSettings Settings)
{
    // Nothing is certain: the least that a rate of the table is, and of a share of the settings. Chosen.
    private const double LeastRate = 0.01;
    private const double LeastShare = 0.02;

    // Figures of the table.
    private const int Decimals = 3;

    // The least that a thermometer or a depression is let err. Units: °C. Chosen.
    private const double LeastCelsius = 0.1;

    // Impure shares no further apart tell nothing of the depression that parts them. Chosen.
    private const double LeastDifference = 0.1;

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
            [.. snapshot.Table.ColourExpectations.Select(row => Changed(row, learning.Colours[row.KindKey], sourceKey))],
            SettingsOf(learning, snapshot.Settings));
    }

    /// <summary>The table with these rows in place of its own.</summary>
    /// <param name="table">The table that was learned beside.</param>
    public ReferenceTable In(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return table with { Responses = Responses, ColourExpectations = ColourExpectations };
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

                changed.Add(Changed(row, rate.Rate, new Told(rate.Compounds, learning.SpotTests.ClassWorth, rate.Weight), test, sourceKey));
                exceptions.AddRange(rate.Compounds
                    .Where(compound => RespondingClass.ParentOf(row.AppliesTo) is null && !compound.Rate.Holds(rate.Rate.Mean))
                    .Select(compound => Changed(row with { AppliesTo = $"parent:{compound.Key}" }, compound.Rate, ToldOf(compound, rate, learning.SpotTests), test, sourceKey)));
            }

            foreach (var (index, row) in exceptions.OrderBy(row => row.AppliesTo, StringComparer.Ordinal).Concat(changed).Index())
            {
                yield return row with { Order = index + 1 };
            }
        }
    }

    /// <summary>A compound's class is to it what an assumed rate is to a class; as much of that as was counted is no assumption.</summary>
    private static Told ToldOf(LearnedCompound compound, LearnedClass of, TwoLevelRates rates)
    {
        var counted = of.Weight / (of.Weight + rates.ClassWorth);
        return new Told([compound], rates.CompoundWorth * (1 - counted), compound.Counted + (rates.CompoundWorth * counted));
    }

    /// <summary>A row with the rate of a clean sample that gives the one learned, turned samples counted.</summary>
    private static SpotTestResponse Changed(
        SpotTestResponse row, LearnedFigure rate, Told of, SpotTestTable.TestRow test, string sourceKey)
    {
        var contrary = row.AnswersYes ? test.Test.PositiveRateIfNo : test.Test.PositiveRateIfYes;
        var turned = test.Question.ContraryRate;
        var clean = (rate.Mean - (turned * contrary)) / (1 - turned);
        return row with
        {
            PositiveRate = Math.Round(Math.Clamp(clean, LeastRate, 1 - LeastRate), Decimals),
            IsAssumed = row.IsAssumed && of.Weight <= of.Worth,
            SourceKey = sourceKey,
            Note = Noted(row.Note, $"positive {Figure.Text(rate.Mean, decimals: 2)} ({Figure.Text(rate.Low, decimals: 2)} to {Figure.Text(rate.High, decimals: 2)}) by {of.Compounds.Sum(one => one.Counted)} reports of {Compounds(of.Compounds.Count)}; {Weighed(of.Worth, of.Weight)}"),
        };
    }

    private static string Weighed(double worth, double weight) =>
        $"what was assumed weighs {Figure.Text(worth, decimals: 1)} reports, what was counted {Figure.Text(weight, decimals: 1)}";

    private static string Compounds(int count) => count == 1 ? "one compound" : FormattableString.Invariant($"{count} compounds");

    private static string Noted(string? note, string learned) =>
        string.IsNullOrEmpty(note) ? $"Learned from classes: {learned}" : $"{note}; learned from classes: {learned}";

    private static ColourExpectation Changed(ColourExpectation row, ColourLearning colours, string sourceKey)
    {
        if (colours.Classes.FirstOrDefault(one => one.Key == row.StructureClass) is not { Compounds.Count: > 0 } learned)
        {
            return row;
        }

        var rounded = learned.Weights.Select(weight => Math.Round(weight, Decimals)).ToArray();
        var most = Array.IndexOf(rounded, rounded.Max());
        rounded[most] = Math.Round(rounded[most] + 1 - rounded.Sum(), Decimals);
        return row with
        {
            Weights = rounded,
            IsAssumed = row.IsAssumed && learned.Weight <= colours.ClassWorth,
            SourceKey = sourceKey,
            Note = Noted(row.Note, $"{Compounds(learned.Compounds.Count)}; {Weighed(colours.ClassWorth, learned.Weight)}"),
        };
    }

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
    private sealed record Told(IReadOnlyList<LearnedCompound> Compounds, double Worth, double Weight);
}

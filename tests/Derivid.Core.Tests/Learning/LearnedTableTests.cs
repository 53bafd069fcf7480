using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Learning;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Learning;

public sealed class LearnedTableTests
{
    private static readonly TableSnapshot Five = TestTable.Five();

    [Fact]
    public void WithNothingCountedTableAndSettingsStayAsTheyAre()
    {
        var learned = LearnedTable.Of(ClassLearning.Of(Five, []), "classes");

        Assert.Equal(Five.Table.Responses.OrderBy(row => row.TestKey).ThenBy(row => row.Order), learned.Responses.OrderBy(row => row.TestKey).ThenBy(row => row.Order));
        Assert.Equal(Five.Table.ColourExpectations, learned.ColourExpectations);
        Assert.Equal(Five.Settings, learned.Settings);
    }

    [Fact]
    public void LearnedRateIsWhatTheEngineForetells()
    {
        var learning = Learn(Compound("acetophenone", 2, 8), Compound("pentan-3-one", 3, 7), Compound("propanone", 2, 8), Compound("pinacolone", 3, 7));
        var ketones = learning.SpotTests.Classes.Single(one => one.Key == "tollens/2");
        Five.TryFindParent("propanone", out var parent);
        var outcome = new ExpectedOutcomes(LearnedTable.Of(learning, "classes").In(Five.Table)).Of("propanone", Five.Features[parent])
            .Single(one => one.Test.Key == "tollens");

        // Of two samples in a hundred the question's answer is turned; then an aldehyde's rate holds.
        Assert.Equal(ketones.Rate.Mean, (0.98 * outcome.PositiveRate) + (0.02 * 0.95), 0.001);
    }

    [Fact]
    public void CompoundUnlikeItsClassGetsARowBeforeIt()
    {
        var learning = Learn(Compound("acetophenone", 2, 8), Compound("pentan-3-one", 2, 8), Compound("propanone", 2, 8), Compound("pinacolone", 36, 4));
        var rows = LearnedTable.Of(learning, "classes").Responses.Where(row => row.TestKey == "tollens").ToList();

        Assert.Equal([1, 2, 3], rows.Select(row => row.Order));
        Assert.Equal(["parent:pinacolone", "aldehyde", "any"], rows.Select(row => row.AppliesTo));
        Assert.InRange(rows[0].PositiveRate, 0.7, 0.9);
        Assert.Equal((false, "classes", false), (rows[0].IsAssumed, rows[0].SourceKey, rows[0].AnswersYes));
        Assert.Contains("40 reports of one compound", rows[0].Note, StringComparison.Ordinal);
        Assert.True(rows[1].IsAssumed);
        Assert.Equal("invented", rows[1].SourceKey);
    }

    [Fact]
    public void FigureStaysAssumedUntilCountsWeighMore()
    {
        // Five reports of one compound, as they were foretold, against many of all four.
        var few = LearnedTable.Of(Learn(Compound("propanone", 0, 5)), "classes").Responses.Single(row => row.TestKey == "tollens" && row.AppliesTo == "any");
        var many = LearnedTable.Of(Learn(Compound("acetophenone", 20, 20), Compound("pentan-3-one", 20, 20), Compound("propanone", 20, 20), Compound("pinacolone", 20, 20)), "classes")
            .Responses.Single(row => row.TestKey == "tollens" && row.AppliesTo == "any");

        Assert.True(few.IsAssumed);
        Assert.False(many.IsAssumed);
        Assert.Contains("what was assumed weighs", few.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void DepressionIsLearnedWithinCoursesWhateverIsListed()
    {
        // Crude crystals clear 3 °C below recrystallised ones, and both 9 °C from the listed value.
        var courses = Enumerable.Range(0, 60).Select(_ => Course(new CompoundTally("propanone", [], [], [Melted(Preparation.Recrystallised, 117, 1.5, 1), Melted(Preparation.Crude, 114, 2.5, 4)], []))).ToList();
        var readings = ClassLearning.Of(Five, courses).Readings;

        Assert.Equal(3, readings.CrudeDepressionCelsius!.Value.Mean, 0.2);
        var (pure, crude) = (readings.Preparations[1], readings.Preparations[0]);
        Assert.Equal((Preparation.Recrystallised, Preparation.Crude), (pure.Preparation, crude.Preparation));
        Assert.Equal(1.5, pure.SpreadCelsius.Mean, 0.2);
        Assert.Equal(4, crude.SpanCelsius.Mean, 0.2);
    }

    [Fact]
    public void MeasuredValueIsTheMeanOfWhatWasRead()
    {
        var measured = Assert.Single(ClassLearning.Of(Five, [Course(new CompoundTally("propanone", [], [], [Melted(Preparation.Recrystallised, 117, 1.5, 1)], []))]).Measured);

        Assert.Equal(("propanone", 1, 10), (measured.ParentKey, measured.Courses, measured.Count));
        Assert.Equal(117, measured.ClearPointCelsius.Mean, 1e-9);
        Assert.True(measured.ClearPointCelsius.Holds(117.5));
        Assert.False(measured.ClearPointCelsius.Holds(126));
    }

    [Fact]
    public void NoteTellsReportsCoursesAndWhatStoodThereBefore()
    {
        var course = Course(Compound("propanone", 2, 8), Compound("acetophenone", 3, 7));
        var row = LearnedTable.Of(ClassLearning.Of(Five, [course, course]), "classes").Responses.Single(row => row.TestKey == "tollens" && row.AppliesTo == "any");

        Assert.Contains($"{Figure.Text(Five.Table.Responses.Single(one => one.TestKey == "tollens" && one.AppliesTo == "any").PositiveRate, 3)} before, {Figure.Text(row.PositiveRate, 3)} after", row.Note, StringComparison.Ordinal);
        Assert.Contains("by 40 reports of 2 compounds in 2 courses", row.Note, StringComparison.Ordinal);
    }

    [Fact]
    public void RatesAndColoursStayWithinWhatTheTableAllows()
    {
        var calls = new int[Five.Table.Colours.Count(colour => colour.Rank is not null)];
        calls[0] = 200;
        CompoundTally Seen(string key) => new(key, [new SpotTestTally("tollens", 0, 200)], [new ColourTally(TestTable.Dnph, calls)], [], []);
        var course = Course(Seen("propanone"), Seen("acetophenone"), Seen("pentan-3-one"), Seen("pinacolone"));
        var learned = LearnedTable.Of(ClassLearning.Of(Five, [course, course], keepsSettings: true), "classes");

        Assert.All(learned.Responses, row => Assert.InRange(row.PositiveRate, 0.02, 0.98));
        Assert.All(learned.ColourExpectations, row => Assert.All(row.Weights, weight => Assert.InRange(weight, 0.02, 1)));
        Assert.All(learned.ColourExpectations, row => Assert.Equal(1, row.Weights.Sum(), 1e-9));
        Assert.NotEqual(Five.Table.ColourExpectations, learned.ColourExpectations);
    }

    [Fact]
    public void MeasuredRecordsAreOfPurifiedCrystalsAndCheckedThermometers()
    {
        MeltingTally Of(Preparation preparation, bool isCalibrated) => Melted(preparation, 117, 1.5, 1) with { IsCalibrated = isCalibrated };
        var course = Course(new CompoundTally("propanone", [], [], [Of(Preparation.Recrystallised, true), Of(Preparation.Recrystallised, false), Of(Preparation.Crude, true)], []));
        var record = Assert.Single(LearnedTable.Of(ClassLearning.Of(Five, [course, course]), LearnedTable.Source.Key).Measured);

        // Two cells of ten readings, each of spread 1.5 °C about 117 °C: √(2·9·1.5² / 19) = √2.1316 = 1.46; 117 − 2·1.46 = 114.08, rounded down.
        Assert.Equal((117.0, 117.0, 114.0, 1.46, 20), (record.MeanCelsius, record.HighCelsius, record.LowCelsius, record.SpreadCelsius, record.Determinations));
        Assert.Equal((Verification.Measured, "students of 2 courses"), (record.Verification, record.MeasuredBy));
        Assert.DoesNotContain(
            TableValidation.Of(Five.Table with { Sources = [.. Five.Table.Sources, LearnedTable.Source], Derivatives = [.. Five.Table.Derivatives, record] }),
            finding => finding.Key == record.Key && finding.Severity == FindingSeverity.Error);
    }

    [Fact]
    public void FailuresAreLearnedByBehaviour()
    {
        var course = Course(
            new CompoundTally("propanone", [], [], [], [new PrecipitateTally(TestTable.Semicarbazone, 20, 20)]),
            new CompoundTally("benzaldehyde", [], [], [], [new PrecipitateTally(TestTable.Semicarbazone, 20, 20)]));
        var learned = LearnedTable.Of(ClassLearning.Of(Five, [course, course, course]), "classes").Settings.Precipitate;

        // Half failed to show anything; one failure in five shows an oil: 1 − 0.5 / 0.8.
        Assert.Equal(0.375, learned.ReadyShare, 0.1);
        Assert.Equal(Five.Settings.Precipitate.RingClosingShare, learned.RingClosingShare);
    }

    private static MeltingTally Melted(Preparation preparation, double mean, double spread, double span) =>
        new(TestTable.Dnph, preparation, false, new Moments(10, mean, spread), new Moments(10, span, 1));

    private static CompoundTally Compound(string key, int positive, int negative) =>
        new(key, [new SpotTestTally("tollens", positive, negative)], [], [], []);

    private static CourseTally Course(params CompoundTally[] compounds) => new(compounds, CourseVerdict.Counts);

    private static ClassLearning Learn(params CompoundTally[] compounds) => ClassLearning.Of(Five, [Course(compounds)]);
}

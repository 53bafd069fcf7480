using Derivid.Core.Learning;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Learning;

public sealed class CourseSieveTests
{
    private static readonly TableSnapshot Five = TestTable.Five();

    // Honest classes err by degrees, so that nobody takes them for copies.
    private static readonly double[] Errors = [-3, 2, -1, 3, 1, -2, 2, -3, 1, -1];

    [Theory]
    [InlineData(false, true)]
    [InlineData(true, false)]
    public void CourseThatIsNotClosedIsRefused(bool hasOptedIn, bool areGradesPublished) =>
        Assert.Throws<ArgumentException>(() => new ClosedCourse([], hasOptedIn, areGradesPublished));

    [Fact]
    public void FewerThanFiveReportsAreWithheld()
    {
        var tally = Tally([.. Reports("acetophenone", "acetophenone", 4), .. Reports("benzaldehyde", "benzaldehyde", 5)]);

        Assert.Equal("benzaldehyde", Assert.Single(tally.Compounds).ParentKey);
    }

    [Fact]
    public void FigureThatRestsOnFewerThanFiveReportsIsWithheld()
    {
        var reports = Reports("benzaldehyde", "benzaldehyde", 6).ToList();
        reports[0] = reports[0] with { Observation = reports[0].Observation with { SpotTests = [new("fehling", SpotTestOutcome.Negative), new("tollens", SpotTestOutcome.Positive)] } };

        Assert.Equal(["tollens"], Tally(reports).Compounds[0].SpotTests.Select(test => test.TestKey));
    }

    [Fact]
    public void StudentsAreCountedNotReports()
    {
        // Ten reports, of four students.
        var reports = Reports("benzaldehyde", "benzaldehyde", 10).Select((report, place) => report with { Student = place % 4 });

        Assert.Empty(Tally(reports).Compounds);
    }

    [Fact]
    public void NothingTellsHowManyWereLeftOut()
    {
        Type[] tallies = [typeof(CompoundTally), typeof(SpotTestTally), typeof(ColourTally), typeof(MeltingTally), typeof(PrecipitateTally)];

        Assert.Equal(
            ["Came", "Negative", "Nothing", "Positive"],
            tallies.SelectMany(type => type.GetProperties()).Where(property => property.PropertyType == typeof(int)).Select(property => property.Name).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void FailuresStayInAsOftenAsCrystals()
    {
        // Everything but the semicarbazone says propanone. Half got crystals, which melt where no label of the course has it; half got none.
        var reports = Reports("propanone", "propanone", 10).Select((report, place) => report with
        {
            Observation = report.Observation with
            {
                Derivatives =
                [
                    .. report.Observation.Derivatives.Where(reading => reading.KindKey == TestTable.Dnph),
                    place % 2 == 0
                        ? new DerivativeReading(TestTable.Semicarbazone, new MeltingRange(198, 199), Preparation.Crude)
                        : new DerivativeReading(TestTable.Semicarbazone, null, Preparation.Crude, Precipitate: Precipitate.None),
                ],
            },
        });
        var tally = Tally([.. Honest(), .. reports]).Compounds.Single(compound => compound.ParentKey == "propanone");

        Assert.Equal(new PrecipitateTally(TestTable.Semicarbazone, 5, 5), Assert.Single(tally.Precipitates, one => one.KindKey == TestTable.Semicarbazone));
    }

    [Theory]
    [InlineData(SpotTestOutcome.Positive)]
    [InlineData(SpotTestOutcome.Negative)]
    public void VerdictIsNotTurnedByOneTestThatWentWrongThroughout(SpotTestOutcome tollens)
    {
        // Every Tollens test of the course came out alike, whatever was in the vial: the verdict goes by that too, but not by that alone.
        var tally = Tally(Five.Parents.SelectMany(parent => Reports(parent.Key, parent.Key, 8, tollens)));

        Assert.Equal(CourseVerdict.Counts, tally.Verdict);
        Assert.All(tally.Compounds, compound => Assert.Equal(8, Assert.Single(compound.SpotTests) is var test ? test.Positive + test.Negative : 0));
    }

    [Fact]
    public void DoubtfulOutcomesAreNotCounted()
    {
        var tests = Tally([.. Reports("benzaldehyde", "benzaldehyde", 6), Report("benzaldehyde", "benzaldehyde", 1, SpotTestOutcome.Doubtful)]).Compounds[0].SpotTests;

        Assert.Equal(new SpotTestTally("tollens", 6, 0), Assert.Single(tests));
    }

    [Fact]
    public void TallyHasNoWordsButKeysOfTheTable()
    {
        Type[] tallies = [typeof(CourseTally), typeof(CompoundTally), typeof(SpotTestTally), typeof(ColourTally), typeof(MeltingTally), typeof(PrecipitateTally), typeof(Moments)];
        var words = tallies.SelectMany(type => type.GetProperties()).Where(property => property.PropertyType == typeof(string)).Select(property => property.Name);

        Assert.Equal(["KindKey", "ParentKey", "TestKey"], words.Distinct().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void OrderOfReportsMeansNothing()
    {
        var reports = Reports("benzaldehyde", "benzaldehyde", 8).Concat(Reports("acetophenone", "acetophenone", 7)).ToList();
        var (there, back) = (Tally(reports), Tally(Enumerable.Reverse(reports)));

        Assert.Equal(there.Compounds.Select(Words), back.Compounds.Select(Words));
    }

    [Fact]
    public void BottleOfAnotherCompoundIsNotCounted()
    {
        var tally = Tally([.. Honest(), .. Reports("pinacolone", "acetophenone", 8)]);

        Assert.Equal(CourseVerdict.Counts, tally.Verdict);
        Assert.Empty(tally.Compounds.Single(compound => compound.ParentKey == "pinacolone").SpotTests);
        Assert.Empty(tally.Compounds.Single(compound => compound.ParentKey == "pinacolone").Meltings);
        Assert.NotEmpty(tally.Compounds.Single(compound => compound.ParentKey == "benzaldehyde").SpotTests);
    }

    [Fact]
    public void VialOfAnotherCompoundIsNotCountedAndTheOthersAre()
    {
        var tests = Tally([.. Honest(), .. Reports("propanone", "propanone", 8), Report("propanone", "benzaldehyde", 0)])
            .Compounds.Single(compound => compound.ParentKey == "propanone").SpotTests;

        Assert.Equal(new SpotTestTally("tollens", 0, 8), Assert.Single(tests));
    }

    [Fact]
    public void OutcomeAgainstTheTableDoesNotDecideOnItself()
    {
        // Melting points say benzaldehyde; that all its Tollens tests failed is what is to be learned.
        var tests = Tally([.. Reports("benzaldehyde", "benzaldehyde", 9, SpotTestOutcome.Negative)]).Compounds[0].SpotTests;

        Assert.Equal(new SpotTestTally("tollens", 0, 9), Assert.Single(tests));
    }

    [Fact]
    public void CopiedClassDoesNotCount()
    {
        var copied = Five.Parents.SelectMany(parent => Enumerable.Range(0, 6).Select(student => new KnownReport(parent.Key, Seen(parent.Key, 0), student)));

        var tally = Tally(copied);

        Assert.Equal(CourseVerdict.Copied, tally.Verdict);
        Assert.Empty(tally.Compounds);
    }

    [Fact]
    public void ClassWhoseReportsFitNoLabelDoesNotCount() =>
        Assert.Equal(CourseVerdict.DoesNotFit, Tally([.. Reports("pinacolone", "acetophenone", 10), .. Reports("benzaldehyde", "propanone", 10)]).Verdict);

    [Fact]
    public void WildReadingsAreLeftOut()
    {
        var reports = Reports("acetophenone", "acetophenone", 8).ToList();
        reports.Add(new KnownReport("acetophenone", Seen("acetophenone", 0) with
        {
            Derivatives = [new DerivativeReading(TestTable.Semicarbazone, new MeltingRange(120, 121), Preparation.Crude), new DerivativeReading(TestTable.Dnph, new MeltingRange(239, 240), Preparation.Crude)],
        }, 8));
        var cell = Tally(reports).Compounds[0].Meltings.Single(melting => melting.KindKey == TestTable.Semicarbazone);

        Assert.Equal(8, cell.ClearPoint.Count);
        Assert.Equal(199 + Errors.Take(8).Average(), cell.ClearPoint.Mean, 1e-9);
    }

    private static CourseTally Tally(IEnumerable<KnownReport> reports) =>
        new CourseSieve(Five).Tally(new ClosedCourse(reports, hasOptedIn: true, areGradesPublished: true));

    private static IEnumerable<KnownReport> Honest() =>
        Five.Parents.Where(parent => parent.Key is not "pinacolone" and not "propanone").SelectMany(parent => Reports(parent.Key, parent.Key, 8));

    private static IEnumerable<KnownReport> Reports(string label, string held, int count, SpotTestOutcome? tollens = null) =>
        Enumerable.Range(0, count).Select(student => Report(label, held, Errors[student], tollens, student));

    private static KnownReport Report(string label, string held, double error, SpotTestOutcome? tollens = null, int student = 99) =>
        new(label, Seen(held, error) is var seen && tollens is { } outcome ? seen with { SpotTests = [new("tollens", outcome)] } : seen, student);

    private static Observation Seen(string held, double error)
    {
        var records = Five.Table.Derivatives.Where(record => record.ParentKey == held);
        return new Observation
        {
            Derivatives = [.. records.Select(record => new DerivativeReading(
                record.KindKey, new MeltingRange(record.HighCelsius + error - 1, record.HighCelsius + error), Preparation.Crude))],
            SpotTests = [new("tollens", held == "benzaldehyde" ? SpotTestOutcome.Positive : SpotTestOutcome.Negative)],
        };
    }

    private static string Words(CompoundTally compound) => string.Join(
        "; ", [compound.ParentKey, .. compound.SpotTests.Select(test => $"{test}"), .. compound.Meltings.Select(melting => $"{melting.KindKey} {melting.ClearPoint.Count} {melting.ClearPoint.Mean:0.000000} {melting.ClearPoint.Spread:0.000000}")]);
}

using Derivid.Core.Learning;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Validation.Learning;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

/// <summary>Four small worlds, to hold that learning learns, that wrong labels hardly hurt it and that cheats are seen; the figures stand in the report.</summary>
/// <remarks>One small world is a matter of luck: of the first four, the gap to the ideal observer with everything was closed by 0.26, 0.28, 0.46 and 0.59.</remarks>
public sealed class LearningTests
{
    private static readonly LearningSize Size = new(FirstSeed: 51, Repeats: 4, Courses: 4, Compounds: 8, Students: 8, NextYear: 120, Sampled: 6);

    private static readonly LearningSize Cheated = Size with { Repeats = 1 };

    private static readonly BenchTable Table = BenchTable.Of(SeedTables.Load());

    private static readonly IReadOnlyList<LearningResult> Results =
        new LearningExperiment(Table, ModelSettingsReader.BuiltIn()).Run(Size, [Trouble.None, Trouble.Vials, Trouble.Bottles], andOrdinary: false, _ => { });

    // What wrong labels may cost over learning from right ones. Units: nats. In the report's twelve worlds it was 0.006 on the mean and 0.031 at most, and a
    // small world is judged by fewer students.
    private const double MostLostNats = 0.05;

    private static LearningResult Untroubled => Results[0];

    private static LearningResult Of(Trouble trouble) => Results.Single(result => result.Trouble == trouble);

    [Fact]
    public void EveryTroubleIsJudgedOnTheSameYear() => Assert.All(Results, result =>
    {
        Assert.Equal(Untroubled.Losses.Select(world => world.Before), result.Losses.Select(world => world.Before));
        Assert.Equal(Untroubled.Losses.Select(world => world.Ideal), result.Losses.Select(world => world.Ideal));
    });

    [Fact]
    public void NobodyIsMetTwiceInAWorld()
    {
        var classes = new SimulatedClasses(Table, seed: 1, LearningSize.Full);
        var size = LearningSize.Full;
        List<int> numbers =
        [
            .. from course in Enumerable.Range(0, LearningSize.Years * size.Courses)
               from place in Enumerable.Range(0, size.Compounds * size.Students)
               select classes.NumberOf(course, place),
            .. Enumerable.Range(0, size.NextYear).Select(SimulatedClasses.NumberOfNextYear),
        ];

        Assert.Distinct(numbers);
    }

    [Fact]
    public void WhoKnowsTheWorldIsNeverBeatenByWhoAssumes() =>
        Assert.All(Rows, row => Assert.True(Loss(Untroubled, world => world.Ideal, row) < Loss(Untroubled, world => world.Before, row)));

    [Theory]
    [InlineData(Trouble.None)]
    [InlineData(Trouble.Vials)]
    [InlineData(Trouble.Bottles)]
    public void AThirdOfTheGapIsClosed(Trouble trouble)
    {
        // To the observer who knows the world in every figure, with three tests and with everything, by all that is learned and by rates and colours
        // alone, which are what is proposed; and to the engine told the true rates and colours, which they alone could become.
        var result = Of(trouble);

        Assert.All(Rows, row =>
        {
            var (before, ideal) = (Loss(result, world => world.Before, row), Loss(result, world => world.Ideal, row));
            Assert.InRange((before - Loss(result, world => world.All, row)) / (before - ideal), 1.0 / 3, 1);
            Assert.InRange((before - Loss(result, world => world.Rates, row)) / (before - ideal), 1.0 / 3, 1);
            Assert.True((before - Loss(result, world => world.Rates, row)) / (before - Loss(result, world => world.Told, row)) >= 1.0 / 3);
        });
    }

    [Theory]
    [InlineData(Trouble.Vials)]
    [InlineData(Trouble.Bottles)]
    public void WrongLabelsHardlyHurt(Trouble trouble) => Assert.All(Rows, row =>
        Assert.InRange(Loss(Of(trouble), world => world.All, row) - Loss(Untroubled, world => world.All, row), double.NegativeInfinity, MostLostNats));

    [Theory]
    [InlineData(Trouble.None)]
    [InlineData(Trouble.Vials)]
    [InlineData(Trouble.Bottles)]
    public void RatesAreWithinTheirIntervals(Trouble trouble)
    {
        // 90 % by name; the figures of a world hang together, so that five to either side are allowed. Compounds are taken all together, and that hides two errors that
        // offset each other: those like their class are held too often (96 % here), those with a rate of their own far too seldom (about half), which is a miss and
        // claimed nowhere.
        var result = Of(trouble);

        Assert.InRange(Share(result, CoverageCount.Sorts[0], CoverageCount.Sorts[1]), 0.85, 0.95);
        Assert.InRange(Share(result, CoverageCount.Sorts[2]), 0.85, 0.95);
        Assert.InRange(Share(result, CoverageCount.Sorts[4]), 0.85, 0.95);

        // Colours of compounds are held too often, 95 to 97 % in the report: only that they aren't held too seldom is asked of them.
        Assert.InRange(Share(result, CoverageCount.Sorts[3]), 0.85, 1);
    }

    [Fact]
    public void CoursesThatCopyOrMakeUpAreSetAside()
    {
        var results = new LearningExperiment(Table, ModelSettingsReader.BuiltIn()).Run(Cheated, [Trouble.Copied, Trouble.Nonsense], andOrdinary: false, _ => { });

        Assert.Equal(0, Untroubled.SetAside);
        Assert.All(results, result => Assert.Equal(LearningSize.Years, result.SetAside));
    }

    [Fact]
    public void SameSeedMakesTheSameClasses()
    {
        var sieve = new CourseSieve(TableSnapshot.Build(Table.Table, ModelSettingsReader.BuiltIn()));
        var (one, other) = (First(), First());

        Assert.Equal(one.Compounds.SelectMany(compound => compound.SpotTests), other.Compounds.SelectMany(compound => compound.SpotTests));
        CourseTally First() => sieve.Tally(new ClosedCourse(new SimulatedClasses(Table, seed: 3, Size).Courses(1, Trouble.Vials)[0], hasOptedIn: true, areGradesPublished: true));
    }

    private static IEnumerable<int> Rows => Enumerable.Range(0, LearningExperiment.Rows.Count);

    private static double Loss(LearningResult result, Func<WorldLosses, double[]> of, int row) => result.Losses.Average(world => of(world)[row]);

    private static double Share(LearningResult result, params string[] sorts)
    {
        var counts = result.Coverage.SelectMany(world => sorts.Select(sort => world.Counts[sort])).ToList();
        return (double)counts.Sum(count => count.Inside) / counts.Sum(count => count.All);
    }
}

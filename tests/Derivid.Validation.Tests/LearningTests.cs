using Derivid.Core.Learning;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Validation.Learning;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

/// <summary>A small world, to hold that learning learns and that cheats are seen; the figures stand in the report.</summary>
public sealed class LearningTests
{
    private static readonly LearningSize Size = new(Repeats: 1, Courses: 4, Compounds: 8, Students: 8, NextYear: 120, Sampled: 6);

    private static readonly BenchTable Table = BenchTable.Of(SeedTables.Load());

    private static readonly IReadOnlyList<LearningResult> Results =
        new LearningExperiment(Table, ModelSettingsReader.BuiltIn()).Run(Size, _ => { });

    [Fact]
    public void EveryTroubleIsJudgedOnTheSameYear() => Assert.All(Results, result =>
    {
        Assert.Equal(Results[0].Losses[0].Before, result.Losses[0].Before);
        Assert.Equal(Results[0].Losses[0].Ideal, result.Losses[0].Ideal);
    });

    [Fact]
    public void WhoKnowsTheWorldIsNeverBeatenByWhoAssumes() =>
        Assert.All(LearningExperiment.Rows.Select((_, row) => row), row => Assert.True(Results[0].Losses[0].Ideal[row] < Results[0].Losses[0].Before[row]));

    [Fact]
    public void LearningHelps() =>
        Assert.All(LearningExperiment.Rows.Select((_, row) => row), row => Assert.True(Results[0].Losses[0].All[row] < Results[0].Losses[0].Before[row]));

    [Fact]
    public void CoursesThatCopyOrMakeUpAreSetAside()
    {
        Assert.Equal(0, Results.Single(result => result.Trouble == Trouble.None).SetAside);
        Assert.Equal(LearningSize.Years, Results.Single(result => result.Trouble == Trouble.Copied).SetAside);
        Assert.Equal(LearningSize.Years, Results.Single(result => result.Trouble == Trouble.Nonsense).SetAside);
    }

    [Fact]
    public void SameSeedMakesTheSameClasses()
    {
        var sieve = new CourseSieve(TableSnapshot.Build(Table.Table, ModelSettingsReader.BuiltIn()));
        var (one, other) = (First(), First());

        Assert.Equal(one.Compounds.SelectMany(compound => compound.SpotTests), other.Compounds.SelectMany(compound => compound.SpotTests));
        CourseTally First() => sieve.Tally(new SimulatedClasses(Table, seed: 3, Size).Courses(1, Trouble.Vials)[0]);
    }
}

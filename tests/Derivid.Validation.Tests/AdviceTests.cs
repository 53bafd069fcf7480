using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Validation.Advice;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

public sealed class AdviceTests
{
    private static readonly BenchTable Table = BenchTable.Of(SeedTables.Load());

    private static readonly Workplace Workplace = new(Table);

    private static readonly IdentificationEngine Engine =
        new(TableSnapshot.Build(Table.Table, ModelSettingsReader.BuiltIn()));

    [Fact]
    public void EveryOrderHoldsEveryStepOnce()
    {
        var steps = Enumerable.Range(0, Table.Table.Kinds.Count + Table.Table.SpotTests.Count + 1).ToList();

        Assert.Equal(steps.Count, Workplace.Steps.Count);
        Assert.Equal(steps, Workplace.CourseOrder().Order());
        Assert.Equal(steps, Workplace.DerivativesFirstOrder().Order());
        Assert.Null(Workplace.Steps[Workplace.CourseOrder()[0]].Key);
    }

    [Fact]
    public void OwnConstantOfASolidIsItsMeltingPoint()
    {
        var bench = new Bench(Table, BenchParameters.Ordinary);
        var own = Workplace.Steps.Single(step => step.Key is null);

        Assert.All(Enumerable.Range(0, 100).Select(number => bench.Student(2, number)), student =>
        {
            var seen = Workplace.After(Workplace.Start(student), own, student);
            Assert.Equal(student.IsSolid ? PhysicalState.Solid : PhysicalState.Liquid, seen.State);
            Assert.Equal(student.MeltingPoint, seen.MeltingPoint);
            Assert.Equal(student.IsSolid || student.BoilingPoint is null, seen.BoilingPoint is null);
        });
    }

    [Fact]
    public void SearchedOrderIsNoSlowerThanTheOnesItStartsFrom()
    {
        var bench = new Bench(Table, BenchParameters.Ordinary with { AbsentShare = 0 });
        var students = Enumerable.Range(0, 6).Select(number => bench.Student(1, number)).ToList();
        int[][] starts = [Workplace.CourseOrder(), Workplace.DerivativesFirstOrder()];
        var search = new OrderSearch(Workplace, Engine, students);

        var (order, minutes) = search.Find(starts);

        Assert.Equal(starts[0].Order(), order.Order());
        Assert.Equal(minutes, search.MeanMinutes(order), 1e-9);
        Assert.All(starts, start => Assert.True(minutes <= search.MeanMinutes(start)));
    }

    [Fact]
    public void PlannerMakesNoDerivativeWhenOneTestTellsTwoCompoundsApart()
    {
        // Butanal or butanone, even chances: an aldehyde test or iodoform settles it in minutes.
        var bench = new Bench(Table, BenchParameters.All[0]);
        var planner = LookAhead.Build(Workplace, bench, Engine, Table.Parents.Count, 3, 80);
        var probability = Table.Parents
            .Select(parent => parent.Key is "butanal" or "butanone" ? 0.5 : 0.0)
            .ToList();

        var chosen = planner.Choose(
            probability, 0, [.. Enumerable.Range(0, Workplace.Steps.Count)], isSolid: false, new Random(1));

        Assert.Equal(1, probability.Sum());
        Assert.Equal(NextStepKind.SpotTest, Workplace.Steps[chosen].Kind);
        Assert.Contains(Workplace.Steps[chosen].QuestionKey, (string?[])["aldehyde", "methyl-ketone"]);
    }

    [Fact]
    public void OptionsAreReadAndWrongOnesRefused()
    {
        var options = RunOptions.Parse(["out", "--quick", "--only", "literature,advice"]);

        Assert.Equal("out", options.Folder);
        Assert.True(options.IsQuick);
        Assert.Equal([Section.Literature, Section.Advice], options.Sections);
        Assert.Throws<ArgumentException>(() => RunOptions.Parse(["--only"]));
        Assert.Throws<ArgumentException>(() => RunOptions.Parse(["--only", "weather"]));
        Assert.Throws<ArgumentException>(() => RunOptions.Parse(["--fast"]));
    }
}

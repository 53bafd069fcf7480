using Derivid.Core.Compounds;
using Derivid.Core.Practice.Decisions;
using Derivid.Core.Ranking;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Practice.Decisions;

/// <summary>Decision trees over a table of five, whose values are those of the trade and whose rates are made up.</summary>
public sealed class DecisionPlannerTests
{
    private static readonly TableSnapshot Five = TestTable.Five();
    private static readonly string[] Ketones = ["propanone", "pinacolone", "pentan-3-one", "acetophenone"];

    private static DecisionOrder Order { get; } = new()
    {
        ParentKeys = [.. Five.Parents.Select(parent => parent.Key)],
        KindKeys = [TestTable.Dnph, TestTable.Semicarbazone],
        TestKeys = ["tollens"],
        TakesConstants = false,
        NoneOfThese = 0,
    };

    private static DecisionTree Plan(DecisionOrder order, TableSnapshot snapshot) =>
        DecisionPlanner.Plan(order, snapshot, TestContext.Current.CancellationToken);

    // Propanone and pinacolone melt alike as 2,4-dinitrophenylhydrazones and 31 °C apart as semicarbazones.
    [Fact]
    public void WhatOneDerivativeLeavesTogetherTheOtherParts()
    {
        var tree = Plan(Order with { ParentKeys = ["propanone", "pinacolone"], TestKeys = [] }, Five);

        Assert.Equal(TestTable.Semicarbazone, tree.Root.Step!.What.Key);
        var at188 = tree.Root.After(tree.Root.Step.Of(188))!;
        var at157 = tree.Root.After(tree.Root.Step.Of(157))!;
        Assert.Equal(DecisionEnd.Named, at188.End);
        Assert.True(at188.Belief[0] > 0.95, $"propanone {at188.Belief[0]}");
        Assert.True(at157.Belief[1] > 0.95, $"pinacolone {at157.Belief[1]}");
    }

    [Fact]
    public void EveryPathIsConsistent()
    {
        var tree = Plan(Order, Five);
        var checkedNodes = 0;
        var ends = 0.0;
        Walk(tree.Root, []);

        Assert.True(checkedNodes > 10, $"{checkedNodes} nodes");
        Assert.InRange(ends, 0.99, 1 + 1e-9);
        Assert.InRange(tree.Forecast.Named, 0.5, 1);
        Assert.InRange(tree.Forecast.Right, 0.5, 1);

        void Walk(DecisionNode node, List<string?> taken)
        {
            checkedNodes++;
            Assert.Equal(1, node.Belief.Sum(), tolerance: 1e-9);
            if (node.Step is null)
            {
                Assert.NotNull(node.End);
                Assert.Empty(node.Branches);
                Assert.Equal(node.End is DecisionEnd.Named, node.Belief.Max() >= tree.Order.Certainty);
                Assert.Equal(node.End is DecisionEnd.NoneOfThese, node.Belief[^1] >= DecisionPlanner.Doubted);
                ends += node.Reach;
                return;
            }

            Assert.Null(node.End);
            Assert.DoesNotContain(node.Step.What.Key, taken);
            var cost = node.Step.What.Cost(tree.Order.HazardMinutes);
            foreach (var branch in node.Branches)
            {
                Assert.Equal(node.Reach * branch.Probability, branch.Node.Reach, tolerance: 1e-12);
                cost += branch.Probability * branch.Node.Forecast.Cost;
                Walk(branch.Node, [.. taken, node.Step.What.Key]);
            }

            Assert.Equal(cost, node.Forecast.Cost, tolerance: 1e-9);
        }
    }

    // By hand, with a step that parts two compounds for certain: 10 min and a class of hazard of 10.
    [Fact]
    public void MinutesAreCountedByHand()
    {
        var step = new BenchStep(
            new BenchWork(NextStepKind.SpotTest, "test", "test", 10, Hazard.Moderate, null),
            [new BenchOutcome(BenchOutcomeKind.Positive), new BenchOutcome(BenchOutcomeKind.Negative)],
            [1, 0, 0, 1]);
        double[] even = [0.5, 0.5];
        var after = new double[2];

        Assert.Equal(20, step.What.Cost(10));
        Assert.Equal(Math.Log(2), step.Information(even), tolerance: 1e-12);
        Assert.Equal(0.5, step.Update(even, 0, after), tolerance: 1e-12);
        Assert.Equal([1, 0], after);
        Assert.Equal(0, step.Information([1, 0]), tolerance: 1e-12);
    }

    // Twins in all that can be done: the work ends at once, and says that nothing would tell.
    [Fact]
    public void OfTwinsItSaysThatNothingTells()
    {
        var twins = TestTable.Snapshot(("a", "CC(C)=O", [126], [188]), ("b", "CC(C)=O", [126], [188]));
        var sheet = DecisionSheet.Of(Plan(Order with { ParentKeys = ["a", "b"] }, twins), twins);

        var point = Assert.Single(sheet.Points);
        Assert.Null(point.Step);
        Assert.Empty(point.Branches);
        Assert.StartsWith("Nothing that the laboratory has", sheet.Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void HazardWeighsAgainstTheQuickerStep()
    {
        // The kinds of the test table are alike but for their names; the first is made hazardous and quick.
        var table = TestTable.Table(
            ("propanone", "CC(C)=O", [126], [188]), ("pentan-3-one", "CCC(=O)CC", [156], [139]));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Kinds = [.. table.Kinds.Select(kind => kind.Key == TestTable.Dnph
                    ? kind with { Minutes = 30, Hazard = Hazard.High }
                    : kind with { Minutes = 45, Hazard = Hazard.Low })],
            },
            TestTable.Settings);
        var order = Order with { ParentKeys = ["propanone", "pentan-3-one"], TestKeys = [] };

        Assert.Equal(TestTable.Dnph, Plan(order with { HazardMinutes = 0 }, snapshot).Root.Step!.What.Key);
        Assert.Equal(TestTable.Semicarbazone, Plan(order with { HazardMinutes = 60 }, snapshot).Root.Step!.What.Key);
    }

    [Fact]
    public void TheSameOrderGivesTheSameSheet()
    {
        var first = DecisionSheet.Of(Plan(Order, Five), Five);
        var second = DecisionSheet.Of(Plan(Order, Five), Five);

        Assert.Equal(System.Text.Json.JsonSerializer.Serialize(first), System.Text.Json.JsonSerializer.Serialize(second));
        Assert.InRange(first.Points.Count, 2, DecisionSheet.MostPoints);
        Assert.All(first.Points.SelectMany(point => point.Branches).Where(outcome => outcome.Next is not null), outcome =>
            Assert.InRange(outcome.Next!.Value, 2, first.Points.Count));
        Assert.All(first.Points, point => Assert.All(point.Branches, outcome => Assert.True(outcome.End is null != outcome.Next is null)));
        Assert.InRange(first.Settled, 0.2, 1);
    }

    // Every point but the first is named by exactly one line, and none is named that isn't there.
    [Fact]
    public void EveryPointOfASheetIsComeToByOneLine()
    {
        foreach (var none in new[] { 0, 0.05, 0.3 })
        {
            var sheet = DecisionSheet.Of(Plan(Order with { NoneOfThese = none, TakesConstants = true }, Five), Five);

            Assert.Equal(
                sheet.Points.Select(point => point.Number).Skip(1),
                sheet.Points.SelectMany(point => point.Branches).Select(outcome => outcome.Next).OfType<int>().Order());
        }
    }

    // Propanone is a liquid: of a solid whose derivatives fit nobody, the tree says so.
    [Fact]
    public void WhatFitsNobodyIsNoneOfThese()
    {
        var tree = Plan(Order with { ParentKeys = ["propanone", "pentan-3-one"], TestKeys = [], NoneOfThese = 0.1 }, Five);
        var far = tree.Root.After(tree.Root.Step!.Of(270))!;

        Assert.Equal(DecisionEnd.NoneOfThese, far.End);
        Assert.True(far.Belief[^1] > 0.5, $"none of these {far.Belief[^1]}");
        Assert.Equal(3, far.Belief.Count);
    }

    [Fact]
    public void WhatDoesNotMeltOnTheBenchIsNoReading()
    {
        var bench = ShelfBench.Of(Order with { TakesConstants = true }, Five);
        var solid = bench.StepsAfter(bench.State!.Of(BenchOutcomeKind.Solid))[^1];
        var melting = new BenchSteps(Five, [.. bench.Parents.Index().Select(parent => parent.Index)], bench.Prior).MeltingPoint(isSolid: false);

        Assert.Equal(NextStepKind.MeltingPoint, solid.What.Kind);
        Assert.DoesNotContain(solid.Outcomes, outcome => outcome.Kind == BenchOutcomeKind.Liquid);
        Assert.Contains(melting.Outcomes, outcome => outcome.Kind == BenchOutcomeKind.Liquid);
        Assert.All(melting.Outcomes.Where(outcome => outcome.Kind == BenchOutcomeKind.Reading), outcome =>
            Assert.True(outcome.HighCelsius is null or > TableSnapshot.RoomCelsius, outcome.Words));
    }

    [Fact]
    public void BandsOfAStepCoverEveryReadingOnce()
    {
        var bench = ShelfBench.Of(Order with { TakesConstants = true }, Five);
        foreach (var step in bench.State!.Outcomes.Index().SelectMany(state => bench.StepsAfter(state.Index))
            .Where(step => step.Outcomes[0].Kind == BenchOutcomeKind.Reading))
        {
            var bands = step.Outcomes.Where(outcome => outcome.Kind == BenchOutcomeKind.Reading).ToList();
            Assert.Null(bands[0].LowCelsius);
            Assert.Null(bands[^1].HighCelsius);
            Assert.All(bands.Zip(bands.Skip(1)), pair => Assert.Equal(pair.First.HighCelsius, pair.Second.LowCelsius));
            for (var celsius = -50.0; celsius < 400; celsius += 7.3)
            {
                Assert.Single(bands, band => band.Holds(celsius));
            }

            for (var compound = 0; compound < bench.Parents.Count; compound++)
            {
                Assert.Equal(1, step.Outcomes.Index().Sum(outcome => step.SharesOf(outcome.Index)[compound]), tolerance: 1e-5);
            }
        }
    }

    // What a band parts is what fine bins part, to what joining may lose.
    [Fact]
    public void BandsKeepTheInformationOfTheBins()
    {
        var places = Ketones.Select(key => Five.TryFindParent(key, out var place) ? place : -1).ToList();
        double[] belief = [0.25, 0.25, 0.25, 0.25, 0];
        var step = new BenchSteps(Five, places, belief).Derivative(Five.Kind(TestTable.Dnph));
        var weights = new double[Five.Parents.Count];
        foreach (var place in places)
        {
            weights[place] = 0.25;
        }

        var fine = Five.Kind(TestTable.Dnph).Forecast.ExpectedInformation(new Core.Ranking.Forecasts.ForecastWeights(weights, 0));

        Assert.InRange(step.Information(belief), fine - 0.05, fine + 1e-5);
    }

    [Fact]
    public void WhatTheTableDoesNotHaveIsRefused()
    {
        Assert.Throws<ArgumentException>(() => Plan(Order with { ParentKeys = ["propanone"] }, Five));
        Assert.Throws<ArgumentException>(() => Plan(Order with { ParentKeys = ["propanone", "nobody"] }, Five));
        Assert.Throws<ArgumentException>(() => Plan(Order with { KindKeys = ["nothing"] }, Five));
        using var gone = new CancellationTokenSource();
        gone.Cancel();
        Assert.Throws<OperationCanceledException>(() => DecisionPlanner.Plan(Order, Five, gone.Token));
    }
}

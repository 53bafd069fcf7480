using Derivid.Core.Observations;
using Derivid.Store.Seeding;
using Derivid.Validation.Experiments;
using Derivid.Validation.Ideal;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

/// <summary>A reduced run that holds what must be true of the yardstick itself, and a few inequalities of the engine.</summary>
public sealed class BenchSmokeTests
{
    private static readonly BenchTable Table = BenchTable.Of(SeedTables.Load());

    private static readonly List<BenchResults> All = Run();

    private static readonly BenchResults Results = All[0];

    private static readonly IEnumerable<int> Rows = Enumerable.Range(0, EvidenceSets.Rows.Count);

    private static List<BenchResults> Run()
    {
        var rules = BenchRules.Fit(Table, new StudentGroup(StudentGroup.FittingSeed, 300));
        var engines = new ReducedEngines(Table, ModelSettingsReader.BuiltIn());
        var observers = new BenchObservers(Table);
        var students = new StudentGroup(StudentGroup.ReportingSeed, 3 * Table.Parents.Count);
        return [.. new[] { BenchParameters.Ordinary, BenchParameters.All[^1] }
            .Select(parameters => new BenchExperiment(Table, parameters).Run(engines, rules, observers, students))];
    }

    private static Summary Of(BenchResults results, int row, Method method, int share)
    {
        var scores = results.Of(row, method, share);
        return Summary.Of([.. results.Cases(share).Select(number => scores[number])]);
    }

    [Fact]
    public void EveryParentThatIsServedIsMeasured() =>
        Assert.Equal(SeedTables.Load().Parents.Count, Table.Parents.Count);

    [Fact]
    public void ValuesHeldOutAreAnEighthAndNoOneElseSeesThem()
    {
        var pairs = Enumerable.Range(0, Table.Parents.Count)
            .SelectMany(removed => Enumerable.Range(0, Table.Parents.Count).Select(parent => (removed, parent)))
            .ToList();
        var share = pairs.Count(of => BenchTable.IsHeldOut(of.removed, of.parent, BenchTable.SemicarbazoneKey)) / (double)pairs.Count;

        Assert.Equal(1 / 8.0, share, 0.01);
        var known = Table.Known(Table.Table, removed: 3);
        Assert.NotEqual(Table.Table.Derivatives.Count, known.Derivatives.Count);
        Assert.All(known.Derivatives, record => Assert.False(BenchTable.IsHeldOut(
            3, Table.Parents.Index().First(of => of.Item.Key == record.ParentKey).Index, record.KindKey)));
    }

    [Fact]
    public void NothingIsMadeUpWhereNobodyPrintedAValue()
    {
        var bench = new Bench(Table, BenchParameters.Ordinary);

        Assert.All(Enumerable.Range(0, Table.Parents.Count), parent =>
        {
            var student = bench.StudentWith(1, parent, parent);
            Assert.All(student.Derivatives.Keys, kind => Assert.NotEmpty(Table.Records(kind)[parent]));
            Assert.Equal(Table.BoilingPoints[parent].Length == 0, student.BoilingPoint is null);
        });
    }

    [Fact]
    public void SharesOfAbsentUnknownsAreAsAsked() =>
        Assert.All(Enumerable.Range(0, BenchParameters.AbsentShares.Count), share =>
        {
            var cases = Results.Cases(share);
            var absent = cases.Count(number => Results.Of(0, Method.Engine, share)[number].IsAbsent);

            // Three in ten are drawn absent; 650 draws leave 0.02 to chance.
            Assert.Equal(BenchParameters.AbsentShares[share], absent / (double)cases.Count, 0.03);
        });

    [Fact]
    public void EngineBeatsTheRulesInLogLossOnTheOrdinaryBench() =>
        Assert.All(Rows, row =>
        {
            var engine = Of(Results, row, Method.Engine, 1);
            foreach (var rule in new[] { Method.Nearest, Method.Window, Method.WindowAndTests })
            {
                Assert.True(engine.LogLoss < Of(Results, row, rule, 1).LogLoss, $"{EvidenceSets.Rows[row]}, {rule}");
            }
        });

    [Fact]
    public void IdealObserverHasTheLeastLogLossOnEveryBenchAndShare()
    {
        foreach (var results in All)
        {
            Assert.All(Rows, row => Assert.All(Enumerable.Range(0, BenchParameters.AbsentShares.Count), share =>
            {
                var ideal = Of(results, row, Method.Ideal, share).LogLoss;

                Assert.All(Enum.GetValues<Method>().Where(method => method != Method.Ideal), method =>
                    Assert.True(ideal < Of(results, row, method, share).LogLoss, $"{EvidenceSets.Rows[row]}, {method}"));
            }));
        }
    }

    [Fact]
    public void IdealObserverIsCalibratedOnEveryBench()
    {
        // The observer knows how the bench errs, so what is left is chance, about 0.4·√(10/650) = 0.05, and what its
        // densities leave out (readings of unlisted values).
        foreach (var results in All)
        {
            Assert.All(Rows, row => Assert.InRange(Of(results, row, Method.Ideal, 2).CalibrationError, 0, 0.09));
        }
    }

    [Fact]
    public void NotBeingToldWhatIsMissingCostsOnlyTheNone() =>
        Assert.All(Rows, row =>
        {
            var (told, untold) = (Of(Results, row, Method.Ideal, 2), Of(Results, row, Method.IdealUntold, 2));

            Assert.Equal(told.Top1, untold.Top1);
            Assert.InRange(untold.NoneAuroc, 0.5, told.NoneAuroc);
            Assert.True(told.LogLoss < untold.LogLoss);
        });

    [Fact]
    public void SolidIsMeltedAndLiquidDistilled()
    {
        const EvidenceSet row = EvidenceSet.Hydrazone | EvidenceSet.OwnConstant;
        var bench = new Bench(Table, BenchParameters.Ordinary);
        var students = Enumerable.Range(0, 500).Select(number => bench.Student(2, number)).ToList();

        Assert.Contains(students, student => !student.IsSolid);
        Assert.Contains(students, student => student.IsSolid);
        Assert.All(students, student =>
        {
            var seen = student.Observe(row, BenchExperiment.TestKeys);
            Assert.Equal(student.IsSolid ? PhysicalState.Solid : PhysicalState.Liquid, seen.State);
            Assert.Equal(student.MeltingPoint, seen.MeltingPoint);
            Assert.Equal(student.IsSolid || student.BoilingPoint is null, seen.BoilingPoint is null);
        });
    }

    [Fact]
    public void MoreEvidenceLowersTheLogLoss()
    {
        var losses = Rows.Select(row => Of(Results, row, Method.Engine, 1).LogLoss).ToList();

        Assert.True(losses[1] < losses[0]);
        Assert.True(losses[EvidenceSets.Everything] < losses[0]);
        Assert.True(losses[EvidenceSets.Everything] < losses[EvidenceSets.Everything - 1]);
    }

    [Fact]
    public void EveryAnswerIsAProbability() =>
        Assert.All(Results.Of(EvidenceSets.Everything, Method.Engine, 0), score =>
        {
            Assert.InRange(score.TopProbability, 0, 1);
            Assert.InRange(score.NoneOfThese, 0, 1);
            Assert.True(double.IsFinite(score.LogLoss));
        });

    [Fact]
    public void StrangeBenchDrawsItsRatesWithoutTheTable()
    {
        var strange = new BenchChemistry(Table, BenchParameters.All[^1]);
        var again = new BenchChemistry(Table, BenchParameters.All[^1]);
        var rates = Table.Parents.Select((_, parent) => strange.Positive("tollens", parent)).ToList();

        Assert.DoesNotContain(rates, rate => Table.PositiveRate("tollens").Contains(rate));
        Assert.Equal(rates, Table.Parents.Select((_, parent) => again.Positive("tollens", parent)));
        Assert.All(Table.Parents.Select((_, parent) => strange.ColourShares(parent).Sum()), sum => Assert.Equal(1, sum, 1e-12));
    }

    [Fact]
    public void SameSeedMakesTheSameStudent()
    {
        var (a, b) = (new Bench(Table, BenchParameters.Ordinary), new Bench(Table, BenchParameters.Ordinary));

        Assert.Equal(a.Student(2, 77).BoilingPoint, b.Student(2, 77).BoilingPoint);
        Assert.NotEmpty(a.Student(2, 77).Derivatives);
        Assert.Equal(a.Student(2, 77).Derivatives, b.Student(2, 77).Derivatives);
        Assert.NotEqual(a.Student(1, 77).Derivatives, a.Student(2, 77).Derivatives);
    }
}

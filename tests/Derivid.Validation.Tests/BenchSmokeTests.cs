using Derivid.Core.Observations;
using Derivid.Store.Seeding;
using Derivid.Validation.Experiments;
using Derivid.Validation.Metrics;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

/// <summary>A reduced run that holds the inequalities the whole report shows.</summary>
public sealed class BenchSmokeTests
{
    private static readonly BenchTable Table = BenchTable.Of(SeedTables.Load());

    private static readonly BenchResults Results = new BenchExperiment(Table, new BenchParameters()).Run(
        ModelSettingsReader.BuiltIn(),
        new StudentGroup(StudentGroup.FittingSeed, 4 * Table.Parents.Count),
        new StudentGroup(StudentGroup.ReportingSeed, 6 * Table.Parents.Count));

    private static Summary Of(int row, Method method) => Summary.Of(Results.Of(row, method));

    [Fact]
    public void EngineBeatsEveryBaselineInEveryRow() =>
        Assert.All(Enumerable.Range(0, EvidenceSets.Rows.Count), row =>
        {
            var engine = Of(row, Method.Engine);
            foreach (var baseline in new[] { Method.Nearest, Method.Window, Method.WindowAndTests })
            {
                Assert.True(engine.Top1 > Of(row, baseline).Top1, $"{EvidenceSets.Rows[row]}, {baseline}");
                Assert.True(engine.LogLoss < Of(row, baseline).LogLoss, $"{EvidenceSets.Rows[row]}, {baseline}");
            }
        });

    [Fact]
    public void IdealObserverBoundsTheLogLossAndStaysNear() =>
        Assert.All(Enumerable.Range(0, EvidenceSets.Rows.Count), row =>
        {
            Assert.True(Of(row, Method.Ideal).LogLoss < Of(row, Method.Engine).LogLoss);

            // Chance alone moves a difference of two top-1 shares over 850 students by about 0.01.
            Assert.InRange(Of(row, Method.Ideal).Top1 - Of(row, Method.Engine).Top1, -0.02, 0.05);
        });

    [Fact]
    public void NotBeingToldWhatIsMissingCostsOnlyTheNone() =>
        Assert.All(Enumerable.Range(0, EvidenceSets.Rows.Count), row =>
        {
            var (told, untold) = (Of(row, Method.Ideal), Of(row, Method.IdealUntold));

            Assert.Equal(told.Top1, untold.Top1);
            Assert.InRange(untold.NoneAuroc, 0.5, told.NoneAuroc);
            Assert.True(told.LogLoss < untold.LogLoss);
            Assert.True(untold.LogLoss < Of(row, Method.Engine).LogLoss);
        });

    [Fact]
    public void SolidIsMeltedAndLiquidDistilled()
    {
        const EvidenceSet row = EvidenceSet.Hydrazone | EvidenceSet.OwnConstant;
        var bench = new Bench(Table, new BenchParameters());
        var students = Enumerable.Range(0, 500).Select(number => bench.Student(2, number)).ToList();

        Assert.Contains(students, student => student.MeltingPoint is null);
        Assert.Contains(students, student => student.MeltingPoint is not null);
        Assert.All(students, student =>
        {
            var seen = student.Observe(row, BenchExperiment.TestKeys);
            Assert.Equal(student.MeltingPoint is null ? PhysicalState.Liquid : PhysicalState.Solid, seen.State);
            Assert.Equal(student.MeltingPoint, seen.MeltingPoint);
            Assert.Equal(student.MeltingPoint is null, seen.BoilingPoint is not null);
        });
    }

    [Fact]
    public void MoreEvidenceLowersTheLogLoss()
    {
        var losses = Enumerable.Range(0, EvidenceSets.Rows.Count).Select(row => Of(row, Method.Engine).LogLoss).ToList();

        for (var row = 0; row < losses.Count; row += 2)
        {
            Assert.True(losses[row + 1] < losses[row], $"colour in {EvidenceSets.Rows[row]}");
        }

        Assert.True(losses[10] < losses[0]);
    }

    [Fact]
    public void EveryAnswerIsAProbability() =>
        Assert.All(Results.Of(11, Method.Engine), score =>
        {
            Assert.InRange(score.TopProbability, 0, 1);
            Assert.InRange(score.NoneOfThese, 0, 1);
            Assert.True(double.IsFinite(score.LogLoss));
        });

    [Fact]
    public void SameSeedMakesTheSameStudent()
    {
        var (a, b) = (new Bench(Table, new BenchParameters()), new Bench(Table, new BenchParameters()));

        Assert.Equal(a.Student(2, 77).BoilingPoint, b.Student(2, 77).BoilingPoint);
        Assert.Equal(
            a.Student(2, 77).Derivatives[BenchTable.HydrazoneKey], b.Student(2, 77).Derivatives[BenchTable.HydrazoneKey]);
        Assert.NotEqual(
            a.Student(1, 77).Derivatives[BenchTable.HydrazoneKey], a.Student(2, 77).Derivatives[BenchTable.HydrazoneKey]);
    }
}

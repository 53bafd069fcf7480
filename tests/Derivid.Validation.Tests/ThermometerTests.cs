using Derivid.Store.Seeding;
using Derivid.Validation.Experiments;
using Derivid.Validation.Reports;
using Derivid.Validation.Simulation;

namespace Derivid.Validation.Tests;

/// <summary>What a calibration brings back, on a reduced run of the ordinary bench.</summary>
public sealed class ThermometerTests
{
    [Fact]
    public void ThermometerThatIsOffIsAsGoodAsATrueOneOnceThreeStandardsAreMelted()
    {
        var table = BenchTable.Of(SeedTables.Load());
        var scores = new ThermometerExperiment(table, BenchParameters.Ordinary, ModelSettingsReader.BuiltIn())
            .Run(new StudentGroup(StudentGroup.ReportingSeed, 4 * table.Parents.Count));
        double Top1(ThermometerState state) => scores[state].Average(ThermometerPage.Top1);

        Assert.InRange(Top1(ThermometerState.OffCalibrated), Top1(ThermometerState.True) - 0.01, Top1(ThermometerState.True) + 0.01);
        Assert.InRange(Top1(ThermometerState.Off), 0, Top1(ThermometerState.True) - 0.05);
        Assert.True(Top1(ThermometerState.OffCalibrated) > Top1(ThermometerState.Unknown));
    }
}

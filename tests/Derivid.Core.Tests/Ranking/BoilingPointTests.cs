using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Tests.Ranking;

/// <summary>Boiling points as evidence. Compounds are real, the figures invented.</summary>
public sealed class BoilingPointTests
{
    [Theory]
    [InlineData(null, true)]
    [InlineData(101.325, true)]
    [InlineData(100.0, true)]
    [InlineData(104.9, true)]
    [InlineData(98.0, false)]
    [InlineData(80.0, false)]
    [InlineData(50.0, false)]
    [InlineData(2.0, false)]
    [InlineData(105.0, false)]
    public void BoilingPointListedAtReducedPressureIsNotComparedWithANormalOne(double? kilopascals, bool isCompared)
    {
        var snapshot = Snapshot(("propanone", 56, kilopascals), ("pentan-3-one", 102, 101.325));
        snapshot.TryFindParent("propanone", out var propanone);

        Assert.Equal(isCompared, snapshot.BoilingPoints.Of(propanone).Count == 1);

        var propanoneRanked = new IdentificationEngine(snapshot).Identify(Boils(55, 56)).Candidates
            .Single(candidate => candidate.Parent.Key == "propanone");
        Assert.StartsWith(
            isCompared
                ? "boiling point: the reading, 56 °C, agrees with the listed"
                : "No boiling point of propanone is listed; it is estimated at ",
            Assert.Single(propanoneRanked.Evidence).Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void ReadingUnderLowPressureIsRaisedBeforeItIsCompared()
    {
        var snapshot = Snapshot(("propanone", 56, null), ("pentan-3-one", 52, null));
        var answer = new IdentificationEngine(snapshot).Identify(
            new Observation { BoilingPoint = new BoilingPointReading(new MeltingRange(51, 52), 87) });

        var reading = Assert.Single(answer.Readings);
        Assert.Equal(52, reading.AsRead.ClearPointCelsius);
        Assert.Equal(PressureCorrection.ToStandard(reading.AsRead, 87), reading.AsUsed);
        Assert.True(reading.AsUsed.ClearPointCelsius > 55);
        Assert.Equal("propanone", answer.Candidates[0].Parent.Key);
    }

    [Fact]
    public void ThermometerIsCorrectedForBoilingAndMeltingPointsToo()
    {
        var off = new ThermometerCorrection([new CalibrationPoint(50, 53)]);
        var answer = new IdentificationEngine(Snapshot(("propanone", 56, null))).Identify(new Observation
        {
            BoilingPoint = new BoilingPointReading(new MeltingRange(52, 53)),
            MeltingPoint = new MeltingRange(40, 41),
            Thermometer = off,
        });

        Assert.Equal([EvidenceKind.BoilingPoint, EvidenceKind.MeltingPoint], answer.Readings.Select(r => r.Kind));
        Assert.Equal(56, answer.Readings[0].AsUsed.ClearPointCelsius, 1e-4);
        Assert.Equal(44, answer.Readings[1].AsUsed.ClearPointCelsius, 1e-12);
    }

    private static Observation Boils(double from, double to) =>
        new() { BoilingPoint = new BoilingPointReading(new MeltingRange(from, to)) };

    private static TableSnapshot Snapshot(params (string Parent, double Celsius, double? Kilopascals)[] boiling) =>
        TableSnapshot.Build(
            TestTable.Table(
                ("propanone", "CC(C)=O", [126], [188]),
                ("pentan-3-one", "CCC(=O)CC", [156], [139]),
                ("acetophenone", "CC(=O)c1ccccc1", [240], [199])) with
            {
                Constants = [.. boiling.Select(item => TestTable.Constant(
                    item.Parent, ParentProperty.BoilingPoint, item.Celsius, kilopascals: item.Kilopascals))],
            },
            TestTable.Settings);
}

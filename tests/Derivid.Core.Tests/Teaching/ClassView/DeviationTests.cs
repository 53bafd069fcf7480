using System.Globalization;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.ClassView;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.ClassView;

/// <summary>How far a class reads from the listed values.</summary>
public sealed class DeviationTests
{
    [Fact]
    public void EachDerivativesMostCarefulReadingIsComparedWithTheNearestListedValue()
    {
        var deviations = Deviation.Of(
            [
                Report("b", "2", "propanone", Observed.Semicarbazone(189, 190), Observed.Dnph(115, 120, Preparation.Crude), Observed.Dnph(121, 123)),
                Report("a", null, "pinacolone", Observed.Dnph(124, 125)),
            ],
            TeachingTable.Five);

        Assert.Equal(
            [
                new Deviation("a", null, "pinacolone", TestTable.Dnph, 0, 1),
                new Deviation("b", "2", "propanone", TestTable.Dnph, -3, 2),
                new Deviation("b", "2", "propanone", TestTable.Semicarbazone, 2, 1),
            ],
            deviations);
    }

    [Fact]
    public void ReadingIsCorrectedAndWhatIsNotListedLeftOut()
    {
        var snapshot = TestTable.Snapshot(("a", "CC(C)=O", [126], []), ("b", "CCC(=O)CC", [156], [139]));
        var report = Report("s", "1", "a", Observed.Dnph(120, 122), Observed.Semicarbazone(100, 101));
        report = report with
        {
            Report = report.Report with
            {
                Observation = report.Report.Observation with
                {
                    Thermometer = new Core.Melting.ThermometerCorrection([new Core.Melting.CalibrationPoint(100, 103)]),
                },
            },
        };

        var deviation = Assert.Single(Deviation.Of([report], snapshot));

        Assert.Equal(-1, deviation.Celsius, 1e-12);
        Assert.Equal(2, deviation.SpanCelsius);
    }

    [Fact]
    public void SeveralUnknownsOfOneStudentComeByCompound() =>
        Assert.Equal(
            ["acetophenone", "pinacolone", "propanone"],
            Deviation.Of(
                [
                    Report("s", null, "propanone", Observed.Dnph(125, 126)), Report("s", null, "acetophenone", Observed.Dnph(125, 126)),
                    Report("s", null, "pinacolone", Observed.Dnph(125, 126)),
                ],
                TeachingTable.Five).Select(deviation => deviation.ParentKey));

    [Fact]
    public void CompoundTheTableLacksIsRefused() =>
        Assert.Contains(
            "no parent 'water'",
            Assert.Throws<ArgumentException>(() => Deviation.Of([Report("s", null, "water")], TeachingTable.Five)).Message,
            StringComparison.Ordinal);

    [Fact]
    public void SummaryGivesMedianScatterQuartilesAndEnds()
    {
        double[] celsius = [1, -3, 0, 2, 10];
        var deviations = celsius.Select((value, i) => new Deviation($"s{i}", i == 4 ? null : "1", "a", "k", value, 1 + i)).ToList();

        var byCompound = Assert.Single(DeviationSummary.By(deviations, deviation => deviation.ParentKey, StringComparer.Ordinal));
        var byBench = Assert.Single(DeviationSummary.By(deviations, deviation => deviation.Bench, StringComparer.Ordinal));

        // In order −3, 0, 1, 2, 10; from the median 1: 4, 1, 0, 1, 9 and their median 1.
        Assert.Equal(new DeviationSummary("a", 5, 1, 1, -3, 0, 2, 10, 3), byCompound);
        Assert.Equal(new DeviationSummary("1", 4, 0.5, 1, -3, -0.75, 1.25, 2, 2.5), byBench);
    }

    [Theory]
    [InlineData(126, 126, true)]
    [InlineData(125.95, 126.05, true)]
    [InlineData(125.94, 126, false)]
    [InlineData(126, 126.06, false)]
    [InlineData(125, 126, false)]
    [InlineData(126, 127, false)]
    public void CopiedRangeIsTheListedOneToATenth(double onset, double clearPoint, bool isCopied) =>
        Assert.Equal(
            isCopied,
            CopiedRange.In([Claims("propanone", Observed.Dnph(onset, clearPoint))], TeachingTable.Five).Count == 1);

    [Fact]
    public void CopiedRangeSaysTheStageAndHowLikelyChanceIs()
    {
        var whole = Assert.Single(CopiedRange.In(
            [Claims("propanone", Observed.Dnph(126, 126, Preparation.Crude), Observed.Dnph(126, 126, Preparation.Crude))], TeachingTable.Five));
        var tenths = TestTable.Snapshot(("a", "CC(C)=O", [126.4], []));
        var fine = Assert.Single(CopiedRange.In([Claims("a", Observed.Dnph(126.4, 126.4))], tenths));

        Assert.Contains("126 °C (crude), is to 0.1 °C", whole.Sentence, StringComparison.Ordinal);
        Assert.EndsWith("Both are whole degrees, so a good reading can fall on it by chance.", whole.Sentence, StringComparison.Ordinal);
        Assert.Contains("126.4 °C (recrystallised), is to", fine.Sentence, StringComparison.Ordinal);
        Assert.EndsWith("A reading can fall on it by chance; the notebook shows.", fine.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(126, 126.5)]
    [InlineData(125.5, 126)]
    public void CopiedRangeOfWhichOneEndIsFinerIsNotOfWholeDegrees(double low, double high)
    {
        var table = TestTable.Table(("a", "CC(C)=O", [126], []));
        var snapshot = TableSnapshot.Build(
            table with { Derivatives = [table.Derivatives[0] with { LowCelsius = low, HighCelsius = high }] }, TestTable.Settings);

        Assert.EndsWith(
            "A reading can fall on it by chance; the notebook shows.",
            Assert.Single(CopiedRange.In([Claims("a", Observed.Dnph(low, high))], snapshot)).Sentence,
            StringComparison.Ordinal);
    }

    [Fact]
    public void CopiedRangesComeByStudentAndNoClaimOrAnUnknownOneHasNone()
    {
        var signals = CopiedRange.In(
            [
                Claims("propanone", Observed.Dnph(126, 126)) with { StudentKey = "b" },
                Claims("propanone", Observed.Dnph(126, 126)) with { StudentKey = "a" },
                Claims(null, Observed.Dnph(126, 126)),
                Claims("water", Observed.Dnph(126, 126)),
                Claims("propanone", Observed.Came(TestTable.Dnph, Precipitate.Oil)),
            ],
            TeachingTable.Five);

        Assert.Equal(["a", "b"], signals.Select(signal => Assert.Single(signal.StudentKeys)));
    }

    [Theory]
    [InlineData("125-127 187-189", 1)]
    [InlineData("125-127", 0)] // Two whole figures: any two students may meet.
    [InlineData("125.5-127", 1)]
    [InlineData("", 0)]
    public void ReadingsAreTellingFromFourFiguresOrTwoWithTenths(string ranges, int signals)
    {
        ClassReport Of(string student) => Report(student, null, "propanone", [.. ranges
            .Split(' ', StringSplitOptions.RemoveEmptyEntries)
            .Select((range, i) =>
            {
                var ends = range.Split('-').Select(end => double.Parse(end, CultureInfo.InvariantCulture)).ToArray();
                return i == 0 ? Observed.Dnph(ends[0], ends[1]) : Observed.Semicarbazone(ends[0], ends[1]);
            })]);

        Assert.Equal(signals, IdenticalReadings.In([Of("a"), Of("b")]).Count);
        Assert.Empty(IdenticalReadings.In([Of("a"), Of("a")]));
    }

    [Fact]
    public void SameFiguresOfAnotherKindOrStageAreOtherReadings()
    {
        var one = Report("a", null, "propanone", Observed.Dnph(125.5, 127));

        Assert.Empty(IdenticalReadings.In([one, Report("b", null, "propanone", Observed.Semicarbazone(125.5, 127))]));
        Assert.Empty(IdenticalReadings.In([one, Report("b", null, "propanone", Observed.Dnph(125.5, 127, Preparation.Crude))]));
        Assert.Empty(IdenticalReadings.In([one, Report("b", null, "propanone", Observed.Dnph(125.5, 127.1))]));
        Assert.Contains(
            "a, b report the same 2 temperatures",
            Assert.Single(IdenticalReadings.In([one, one with { StudentKey = "b" }])).Sentence,
            StringComparison.Ordinal);
    }

    private static ClassReport Report(string student, string? bench, string handedOut, params DerivativeReading[] readings) =>
        new(student, bench, new Unknown(handedOut, []), new Report { Observation = new Observation { Derivatives = readings } });

    private static ClassReport Claims(string? claim, params DerivativeReading[] readings)
    {
        var report = Report("s", null, "propanone", readings);
        return report with { Report = report.Report with { ClaimedParentKey = claim } };
    }
}

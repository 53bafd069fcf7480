using System.Globalization;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>Reports graded with pencil and paper before the code was run.</summary>
[Trait("Kind", "Worked")]
public sealed class WorkedGradingTests
{
    private static readonly string[] Shelf = ["propanone", "pinacolone", "pentan-3-one", "acetophenone", "benzaldehyde"];

    [Fact]
    public void GoodReportMatchesTheArithmeticDoneByHand()
    {
        // Handed out propanone: 2,4-DNPH 126 °C, semicarbazone 188 °C in the invented table.
        var report = new Report
        {
            ClaimedParentKey = "propanone",
            Attempt = 1,
            Lateness = TimeSpan.FromMinutes(40),
            Observation = new Observation
            {
                Derivatives =
                [
                    Observed.Dnph(116, 122, Preparation.Crude),
                    Observed.Dnph(123, 126),
                    new DerivativeReading(TestTable.Semicarbazone, new MeltingRange(179, 184), Preparation.Crude),
                ],
                SpotTests = [Observed.Negative("tollens"), Observed.Positive("iodoform"), Observed.Positive("schiff")],
            },
        };

        var grade = Grader.Grade(report, new Unknown("propanone", Shelf), Rubrics.Full, TeachingTable.Five);

        // Compound: right, 10. Class: a ketone at neither ring nor C=C, right in both halves, 4.
        // Claim: the semicarbazone lies 4 °C from propanone's 188 °C but 27 °C from pinacolone's 157 °C, the only other
        // compound near 126 °C; that leaves a density of about 0.06 against some 0.0002, so propanone has over 0.8: 6.
        // Width: 3 °C gives (6 − 3)/(6 − 2) = 0.75, 5 °C gives 0.25; mean 0.5 of 4 is 2.
        // Distance: 126 on 126 gives 1; 184 is 4 °C below 188, (10 − 4)/(10 − 2) = 0.75; mean 0.875 of 4 is 3.5.
        // Recrystallising: the 2,4-DNPH narrows from 6 to 3 °C and clears higher, 1; the semicarbazone was not
        // recrystallised; (1 + 0)/2 of 2 is 1.
        // Tests, claim and compound alike: Tollens negative fits, iodoform positive fits, Schiff positive does not: 2 of
        // 3; 2/3 of 2 is 1.33, to the nearest half 1.5. Twice.
        // Attempts: the first, 0. Late 40 minutes, within the hour, 0.
        decimal[] byHand = [10, 4, 6, 2, 3.5m, 1, 1.5m, 1.5m, 0, 0];
        Assert.Equal(byHand, grade.Lines.Select(line => line.Points));
        Assert.Equal(29.5m, grade.Total);
        Assert.Equal(34, grade.Maximum);
    }

    [Fact]
    public void PoorReportMatchesTheArithmeticDoneByHand()
    {
        // Handed out pinacolone: 2,4-DNPH 125 °C. The thermometer reads 1 °C low at a standard of 122.4 °C.
        var report = new Report
        {
            ClaimedParentKey = "propanone",
            Attempt = 3,
            Lateness = TimeSpan.FromHours(25.5),
            Observation = new Observation
            {
                Derivatives = [new DerivativeReading(TestTable.Dnph, new MeltingRange(122, 125))],
                SpotTests = [Observed.Positive("iodoform"), new SpotTestReading("tollens", SpotTestOutcome.Doubtful)],
                Thermometer = new ThermometerCorrection([new CalibrationPoint(121.4, 122.4)]),
            },
        };

        var grade = Grader.Grade(report, new Unknown("pinacolone", Shelf), Rubrics.Full, TeachingTable.Five);

        // Compound: wrong, but 126 °C corrected lies 0 and 1 °C from the two, whose likelihoods differ by less than the
        // factor e^1.15 = 3.2; the others are 30 °C and more away: a set of two, half of 10 is 5.
        // Class: both ketones at neither ring nor C=C, 4.
        // Claim: leads, in a set of two, below 0.8: 0.75 of 6 is 4.5.
        // Width: 3 °C gives 0.75, the second derivative is missing: 0.375 of 4 is 1.5.
        // Distance: 1 °C gives 1, the second is missing: 0.5 of 4 is 2.
        // Recrystallising: nothing shown, 0.
        // Tests: iodoform fits, Tollens doubtful counts a half: 1.5 of 2 is 0.75, of 2 points 1.5. Twice.
        // Attempts: the third, one free, 2 · 2 = 4 of at most 5. Late 25.5 h less 1 h: 24.5 h, two days begun, 2 · 3 = 6.
        decimal[] byHand = [5, 4, 4.5m, 1.5m, 2, 0, 1.5m, 1.5m, -4, -6];
        Assert.Equal(byHand, grade.Lines.Select(line => line.Points));
        Assert.Equal(10, grade.Total);
        Assert.Equal(34, grade.Maximum);
    }

    /// <summary>
    /// Twelve reports of derivatives, by a rubric of 4 points for sharp ranges, 4 for ranges near those listed and 2 for
    /// recrystallising. Listed: of alpha a 2,4-DNPH at 126 °C and a semicarbazone at 188 °C, of beta a 2,4-DNPH at 150 °C, of
    /// gamma nothing, of delta a semicarbazone at 200 °C.
    /// </summary>
    public static TheoryData<string, int, string, string, decimal, decimal, decimal, decimal> Derivatives => new()
    {
        // 3 °C wide: (6 − 3)/(6 − 2) = 0.75 of 4 is 3. Clear at 126 on 126: 4. From 6 to 3 °C wide and higher: 2.
        { "alpha", 1, "both", "dnph crude 116-122, dnph 123-126", 3, 4, 2, 10 },

        // The semicarbazone is 2 °C wide, 1, and clear where it is listed, 1: (0.75 + 1)/2 = 0.875 of 4 is 3.5; 4; of the two
        // only the 2,4-DNPH has both ranges, 1 of 1 expected: 2.
        { "alpha", 1, "both", "dnph crude 116-122, dnph 123-126, semi 186-188", 3.5m, 4, 2, 10 },

        // The semicarbazone is 4 °C wide, 0.5, and clear 6 °C too low, (10 − 6)/(10 − 2) = 0.5: (0.75 + 0.5)/2 = 0.625 of 4 is
        // 2.5; (1 + 0.5)/2 = 0.75 of 4 is 3; 2.
        { "alpha", 1, "both", "dnph crude 116-122, dnph 123-126, semi 178-182", 2.5m, 3, 2, 10 },

        // Right and sharp, but of a kind that the course doesn't offer.
        { "alpha", 1, "dnph", "semi crude 182-186, semi 187-188", 0, 0, 0, 10 },

        // Offered, but nothing is listed for beta, and nothing else was made although a 2,4-DNPH could have been compared.
        { "beta", 1, "both", "semi crude 182-186, semi 187-188", 0, 0, 0, 10 },

        // Two expected of which one is listed: that one counts as if one were expected. 2 °C wide, 4; on the value, 4; from 6
        // to 2 °C wide and higher, 2. The semicarbazone counts neither way.
        { "beta", 2, "both", "dnph crude 140-146, dnph 148-150, semi 100-105", 4, 4, 2, 10 },

        // Nothing the course offers is listed for gamma: no points, and none that could have been earned.
        { "gamma", 1, "both", "dnph crude 140-146, dnph 148-150", 0, 0, 0, 0 },

        // Nor for delta if only the 2,4-DNPH is offered; whatever else is reported.
        { "delta", 1, "dnph", "semi 199-200", 0, 0, 0, 0 },

        // 145 is 19 °C from 126, more than 10: sharp, but not taken for alpha's derivative.
        { "alpha", 1, "both", "dnph crude 138-142, dnph 144-145", 0, 0, 0, 10 },

        // 136 is 10 °C away, just taken for it: 1 °C wide, 4; 10 °C and more away, 0; sharper and higher, 2.
        { "alpha", 1, "both", "dnph crude 125-131, dnph 135-136", 4, 0, 2, 10 },

        // One figure tried on both kinds: the 2,4-DNPH 62 °C off, 0, the semicarbazone on its value, 1: half of everything.
        { "alpha", 1, "both", "dnph crude 180-186, dnph 187-188, semi crude 180-186, semi 187-188", 2, 2, 1, 10 },

        // Two expected, one made, not recrystallised: 2 °C wide, (1 + 0)/2 of 4 is 2; on the value, the same; nothing shown.
        { "alpha", 2, "both", "dnph 124-126", 2, 2, 0, 10 },

        // The course names no kinds, so all count: 1 °C wide, 4; on the value, 4; nothing shown.
        { "delta", 1, "", "semi 199-200", 4, 4, 0, 10 },
    };

    [Theory]
    [MemberData(nameof(Derivatives))]
    public void DerivativesMatchTheArithmeticDoneByHand(
        string handedOut, int expected, string offered, string readings, decimal width, decimal distance, decimal recrystallising, decimal most)
    {
        var rubric = new Rubric
        {
            Name = "Derivatives",
            ExpectedDerivatives = expected,
            RangeWidth = new RangeWidth { Points = 4 },
            RangeDistance = new RangeDistance { Points = 4 },
            Recrystallisation = new Recrystallisation { Points = 2 },
        };
        var unknown = new Unknown(handedOut, [])
        {
            KindKeys = offered switch
            {
                "both" => [TestTable.Dnph, TestTable.Semicarbazone],
                "dnph" => [TestTable.Dnph],
                _ => [],
            },
        };

        var grade = Grader.Grade(
            new Report { Observation = new Observation { Derivatives = [.. readings.Split(", ").Select(Reading)] } }, unknown, rubric, Sparse);

        Assert.Equal([width, distance, recrystallising], grade.Lines.Select(line => line.Points));
        Assert.Equal(most, grade.Maximum);
    }

    private static TableSnapshot Sparse { get; } = TestTable.Snapshot(
        ("alpha", "CC(C)=O", [126], [188]), ("beta", "CCC(C)=O", [150], []), ("gamma", "CCCC(C)=O", [], []), ("delta", "CCCCC(C)=O", [], [200]));

    private static DerivativeReading Reading(string words)
    {
        var parts = words.Split(' ');
        var ends = parts[^1].Split('-').Select(end => double.Parse(end, CultureInfo.InvariantCulture)).ToList();
        return new DerivativeReading(
            parts[0] == "dnph" ? TestTable.Dnph : TestTable.Semicarbazone,
            new MeltingRange(ends[0], ends[1]),
            parts.Length == 3 ? Preparation.Crude : Preparation.Recrystallised);
    }
}

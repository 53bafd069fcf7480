using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>Two reports graded with pencil and paper before the code was run.</summary>
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
}

using CsCheck;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Grading;

public sealed class GraderTests
{
    private static readonly string[] Keys = ["propanone", "pinacolone", "pentan-3-one", "acetophenone", "benzaldehyde"];

    private static readonly Gen<Report> AnyReport =
        from dnph in Gen.Double[20, 340]
        from span in Gen.Double[0, 12]
        from claim in Gen.Int[0, 5]
        from attempt in Gen.Int[1, 9]
        from hours in Gen.Double[-50, 200]
        from came in Gen.Enum<Precipitate>().Nullable()
        from outcome in Gen.Enum<SpotTests.SpotTestOutcome>()
        select new Report
        {
            ClaimedParentKey = claim < 5 ? Keys[claim] : null,
            Attempt = attempt,
            Lateness = TimeSpan.FromHours(hours),
            Observation = new Observation
            {
                Derivatives =
                [
                    Observed.Dnph(dnph, dnph + span),
                    .. came is { } precipitate ? new[] { Observed.Came(TestTable.Semicarbazone, precipitate) } : [],
                ],
                SpotTests = [new SpotTestReading("iodoform", outcome)],
            },
        };

    [Fact]
    public void PointsStayWithinTheirBoundsAndOnTheStep() =>
        Gen.Select(AnyReport, Gen.Int[0, 4]).Sample((report, handedOut) =>
        {
            var grade = Grade(report, Keys[handedOut]);

            Assert.All(grade.Lines.Where(line => line.Maximum > 0), line => Assert.InRange(line.Points, 0, line.Maximum));
            Assert.All(grade.Lines.Where(line => line.Maximum == 0), line => Assert.InRange(line.Points, -10, 0));
            Assert.All(grade.Lines, line => Assert.Equal(0, line.Points % 0.5m));
            Assert.InRange(grade.Total, 0, grade.Maximum);
            Assert.Equal(Enum.GetValues<CriterionKind>().Except([CriterionKind.WrittenReasoning]), grade.Lines.Select(line => line.Criterion));
        });

    [Fact]
    public void SentencesForStudentsNeverNameTheCompoundHandedOut() =>
        Gen.Select(AnyReport, Gen.Int[0, 4]).Sample((report, handedOut) =>
        {
            var shown = Grade(report, Keys[handedOut]).Lines.Where(line => !line.TellsIdentity).Select(line => line.Sentence);

            Assert.All(
                shown.Where(_ => report.ClaimedParentKey != Keys[handedOut]),
                sentence => Assert.DoesNotContain(Keys[handedOut], sentence, StringComparison.Ordinal));
        });

    [Fact]
    public void SentencesForStudentsAreTheSameWhateverWasHandedOut() =>
        Gen.Select(AnyReport, Gen.Int[0, 4], Gen.Int[0, 4]).Sample((report, one, other) =>
            Assert.Equal(
                Grade(report, Keys[one]).Lines.Where(line => !line.TellsIdentity),
                Grade(report, Keys[other]).Lines.Where(line => !line.TellsIdentity)));

    [Fact]
    public void ReportWithoutEvidenceOrClaimEarnsNothing()
    {
        var empty = Grade(new Report { Observation = new Observation() }, "propanone");
        var guess = Grade(new Report { Observation = new Observation(), ClaimedParentKey = "pinacolone" }, "propanone");

        Assert.Equal(0, empty.Total);
        Assert.Equal(0, Points(guess, CriterionKind.RightCompound));
        Assert.Equal(0, Points(guess, CriterionKind.SupportedClaim));
        Assert.Equal(4, Points(guess, CriterionKind.RightClass));
    }

    [Fact]
    public void LiquidOrSolidIsEvidenceToo()
    {
        string Sentence(Observation observation) => Grade(
            new Report { Observation = observation, ClaimedParentKey = "pinacolone" }, "propanone")
            .Lines.Single(line => line.Criterion == CriterionKind.SupportedClaim).Sentence;

        Assert.Contains("holds no evidence", Sentence(new Observation()), StringComparison.Ordinal);
        Assert.DoesNotContain(
            "holds no evidence", Sentence(new Observation { State = PhysicalState.Liquid }), StringComparison.Ordinal);
    }

    [Fact]
    public void ClaimOfAFunctionEarnsThatHalfOfTheClass()
    {
        var grade = Grade(
            new Report { Observation = new Observation(), ClaimedKind = ParentKind.Aldehyde }, "benzaldehyde");

        Assert.Equal(2, Points(grade, CriterionKind.RightClass));
    }

    [Fact]
    public void WrongClaimThatTheEvidenceBearsOutKeepsThosePoints()
    {
        // Handed out propanone (126 °C), and read a little low, as of pinacolone (125 °C).
        var grade = Grade(
            new Report
            {
                ClaimedParentKey = "pinacolone",
                Observation = new Observation { Derivatives = [Observed.Dnph(123, 125)] },
            },
            "propanone");

        // No derivative of this report tells the two apart.
        Assert.Equal(5, Points(grade, CriterionKind.RightCompound));
        Assert.Equal(4.5m, Points(grade, CriterionKind.SupportedClaim));
        Assert.Equal(2, Points(grade, CriterionKind.RangeDistance));
    }

    [Fact]
    public void WrongClaimIsNotBorneOutByRangesThatCannotBeOfWhatWasHandedOut()
    {
        // Handed out propanone, but the readings are those listed for pentan-3-one: of the wrong vial, or of none.
        var grade = Grade(
            new Report
            {
                ClaimedParentKey = "pentan-3-one",
                Observation = new Observation
                {
                    Derivatives = [Observed.Dnph(155, 156), Observed.Semicarbazone(138, 139)],
                    MolarMass = new MolarMassReading(86, 0.1),
                    Elements = [new ElementReading(DetectableElement.Chlorine, false)],
                },
            },
            "propanone");
        var line = grade.Lines.Single(line => line.Criterion == CriterionKind.SupportedClaim);

        Assert.Equal(0, line.Points);
        Assert.StartsWith("The report holds no evidence that counts; 2 of 2 ranges could not be of the compound handed out", line.Sentence, StringComparison.Ordinal);
        Assert.True(line.TellsIdentity);
        Assert.Contains("within 10 °C of those listed", line.ForStudents, StringComparison.Ordinal);
        Assert.Equal(0, Points(grade, CriterionKind.RangeDistance));
    }

    [Fact]
    public void OfManyRangesOfOneKindTheOneThatIsWeighedTells()
    {
        // Handed out propanone (126 °C): the crude range is near that, the recrystallised one, which counts, is pentan-3-one's.
        var grade = Grade(
            new Report
            {
                ClaimedParentKey = "pentan-3-one",
                Observation = new Observation
                {
                    Derivatives = [Observed.Dnph(155, 156) with { Preparation = Preparation.Recrystallised }, Observed.Dnph(125, 126) with { Preparation = Preparation.Crude }],
                },
            },
            "propanone");

        Assert.StartsWith(
            "The report holds no evidence that counts; 1 of 1 range could",
            grade.Lines.Single(line => line.Criterion == CriterionKind.SupportedClaim).Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void ClaimIsBorneOutByWhatTheCourseOffersOnly()
    {
        decimal Points(Observation observation, Unknown unknown) => GraderTests.Points(
            Grader.Grade(new Report { Observation = observation, ClaimedParentKey = "propanone" }, unknown, Rubric.Usual, TeachingTable.Five),
            CriterionKind.SupportedClaim);
        var offered = new Unknown("propanone", Keys) { KindKeys = [TestTable.Semicarbazone], SpotTestKeys = ["tollens"] };
        var observation = new Observation { Derivatives = [Observed.Semicarbazone(187, 188)] };

        Assert.Equal(6, Points(observation, offered));
        Assert.Equal(0, Points(observation, offered with { KindKeys = [TestTable.Dnph] }));
        Assert.Equal(0, Points(new Observation { SpotTests = [Observed.Positive("iodoform")] }, offered));
        Assert.NotEqual(0, Points(new Observation { SpotTests = [Observed.Negative("tollens")] }, offered));
    }

    [Fact]
    public void StudentsOwnPriorCarriesNoWeight()
    {
        var report = new Report
        {
            ClaimedParentKey = "propanone",
            Observation = new Observation { Derivatives = [Observed.Dnph(125, 126)] },
        };
        var biased = report with
        {
            Observation = report.Observation with
            {
                Prior = new PriorChoice { Weights = new Dictionary<string, double> { ["propanone"] = 1 }, NoneOfThese = 0 },
            },
        };

        Assert.Equal(Grade(report, "propanone").Lines, Grade(biased, "propanone").Lines);
    }

    [Fact]
    public void UnlikelyPairThatTheEvidenceCannotPartStillShareTheCredit()
    {
        // Six alike at 126 °C take nearly all of the probability; two alike at 133 °C have a few in a hundred each.
        var snapshot = TestTable.Snapshot(
        [
            .. Enumerable.Range(0, 6).Select(i =>
                ($"near-{i}", $"CC(=O){new string('C', i + 1)}", new double[] { 126 }, new double[] { 100 + i })),
            ("handed-out", "CC(=O)c1ccccc1", [133], [199]),
            ("claimed", "CC(=O)c1ccc(C)cc1", [133], [205]),
        ]);
        var report = new Report
        {
            ClaimedParentKey = "claimed",
            Observation = new Observation { Derivatives = [Observed.Dnph(127, 128)] },
        };
        var posterior = new Core.Ranking.IdentificationEngine(snapshot).Weigh(report.Observation).ProbabilityOf(snapshot, "claimed");

        var grade = Grader.Grade(report, new Unknown("handed-out", []), Rubrics.Full, snapshot);

        Assert.InRange(posterior, 0.011, 0.049);
        Assert.Equal(5, Points(grade, CriterionKind.RightCompound));
    }

    [Fact]
    public void RegradingShowsWhatChangedAndWhy()
    {
        var report = new Report
        {
            ClaimedParentKey = "propanone",
            Observation = new Observation { Derivatives = [Observed.Dnph(122, 126)] },
        };
        var before = Grade(report, "propanone");
        var stricter = Rubrics.Full with
        {
            Name = "Stricter",
            RangeWidth = new RangeWidth { Points = 4, ZeroSpanCelsius = 4 },
            TestsFitClaim = null,
        };

        var comparison = GradeComparison.Between(
            before, Grader.Grade(report, new Unknown("propanone", Keys), stricter, TeachingTable.Five));

        // Width 4 °C: (6 − 4)/(6 − 2) = 0.5, halved by the missing derivative, 1 point of 4; now 0.
        Assert.Equal(
            [CriterionKind.RangeWidth, CriterionKind.TestsFitClaim],
            comparison.Changes.Select(change => change.Criterion));
        Assert.Equal(-1, comparison.TotalDifference);
        Assert.Null(comparison.Changes[1].After);
        Assert.Equal(["The rubric was Carbonyl unknown and is now Stricter."], comparison.Causes);
        Assert.Empty(GradeComparison.Between(before, before).Changes);
    }

    [Fact]
    public void RegradingUnderOtherMarkingRulesOrAnotherOfferSaysSo()
    {
        var report = new Report { Observation = new Observation { Derivatives = [Observed.Dnph(122, 126)] } };
        Grade Offering(params string[] kinds) => Grader.Grade(
            report, new Unknown("propanone", Keys) { KindKeys = kinds }, Rubrics.Full, TeachingTable.Five);
        var grade = Offering(TestTable.Dnph);

        Assert.Equal(Grader.MarkingRules, grade.MarkingRules);
        Assert.Equal(
            ["The version of the marking rules was 1 and is now 3."],
            GradeComparison.Between(grade with { MarkingRules = 1, Offered = [] }, grade).Causes);
        Assert.Equal(
            ["The list of what the course offers was 2-4-dinitrophenylhydrazone and is now semicarbazone."],
            GradeComparison.Between(grade, Offering(TestTable.Semicarbazone)).Causes);
        Assert.Empty(GradeComparison.Between(grade, Offering(TestTable.Dnph)).Causes);
    }

    [Fact]
    public void BadInputIsRefusedWithTheReason()
    {
        var report = new Report { Observation = new Observation() };
        Refused("no parent 'water'", () => Grade(report, "water"));
        Refused("no parent 'water'", () => Grade(report with { ClaimedParentKey = "water" }, "propanone"));
        Refused("not on the shelf list", () => Grader.Grade(
            report, new Unknown("propanone", ["pinacolone"]), Rubrics.Full, TeachingTable.Five));
        Refused("PointStep: 0 must lie from 0.01 to 10", () => Grader.Grade(
            report, new Unknown("propanone", []), Rubrics.Full with { PointStep = 0 }, TeachingTable.Five));
        Refused("Attempt", () => Grade(report with { Attempt = 0 }, "propanone"));
    }

    [Fact]
    public void EveryFaultOfARubricIsNamed()
    {
        var rubric = new Rubric
        {
            Name = "",
            ExpectedTests = 0,
            RightCompound = new RightCompound { Points = -1, GroupShare = double.NaN },
            RangeWidth = new RangeWidth { Points = 1, FullSpanCelsius = 5, ZeroSpanCelsius = 5 },
            Lateness = new LatenessDeduction { PointsPerDay = 2000, MostPoints = 1, GraceHours = -1 },
        };

        Assert.Equal(
            [
                "/Name", "/ExpectedTests", "RightCompound/Points", "RightCompound/GroupShare", "RangeWidth/ZeroSpanCelsius",
                "Lateness/GraceHours", "Lateness/PointsPerDay",
            ],
            rubric.Faults().Select(fault => $"{fault.Criterion}/{fault.Field}"));
        Assert.Equal("Criteria", Assert.Single(new Rubric { Name = "Empty" }.Faults()).Field);
        Assert.Empty(Rubrics.Full.Faults());
    }

    private static Grade Grade(Report report, string handedOut) =>
        Grader.Grade(report, new Unknown(handedOut, handedOut == "water" ? [] : Keys), Rubrics.Full, TeachingTable.Five);

    private static decimal Points(Grade grade, CriterionKind kind) =>
        grade.Lines.Single(line => line.Criterion == kind).Points;

    private static void Refused(string reason, Func<Grade> grade) =>
        Assert.Contains(reason, Assert.ThrowsAny<ArgumentException>(grade).Message, StringComparison.Ordinal);
}

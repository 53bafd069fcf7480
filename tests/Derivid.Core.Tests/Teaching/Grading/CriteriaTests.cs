using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>Each criterion by itself, at and beside the figures of its rule. Ten points each, in hundredths.</summary>
public sealed class CriteriaTests
{
    private static readonly TableSnapshot Five = TeachingTable.Five;

    [Theory]
    [InlineData(1, 10)]
    [InlineData(2, 10)]
    [InlineData(3, 7.5)]
    [InlineData(4, 5)]
    [InlineData(6, 0)]
    [InlineData(8, 0)]
    [InlineData(0, 4)] // One figure, whose width nobody knows.
    public void WidthEarnsAllToItsFullSpanAndNothingFromItsZeroSpan(double span, double points)
    {
        var rubric = Only(r => r with { RangeWidth = new RangeWidth { Points = 10, SingleFigureShare = 0.4 } });

        Assert.Equal((decimal)points, Grade(rubric, Read(Observed.Dnph(126 - span, 126))).Total);
    }

    [Theory]
    [InlineData(126, 10)]
    [InlineData(128, 10)]
    [InlineData(124, 10)]
    [InlineData(132, 5)]
    [InlineData(120, 5)]
    [InlineData(136, 0)]
    [InlineData(116, 0)]
    [InlineData(300, 0)]
    public void DistanceFromTheListedRangeOfTheCompoundHandedOutCounts(double clearPoint, double points)
    {
        var rubric = Only(r => r with { RangeDistance = new RangeDistance { Points = 10 } });

        Assert.Equal((decimal)points, Grade(rubric, Read(Observed.Dnph(clearPoint - 9, clearPoint))).Total);
    }

    [Fact]
    public void DistanceIsOfTheCorrectedReadingAndWidthOfTheRawOne()
    {
        var rubric = Only(r => r with
        {
            RangeDistance = new RangeDistance { Points = 10 },
            RangeWidth = new RangeWidth { Points = 10 },
        });
        var low = Read(Observed.Dnph(114, 117));
        var corrected = low with
        {
            Observation = low.Observation with { Thermometer = new ThermometerCorrection([new(40, 40), new(120, 129)]) },
        };

        Assert.Equal([7.5m, 1.25m], Grade(rubric, low).Lines.Select(line => line.Points));
        Assert.Equal([7.5m, 10], Grade(rubric, corrected).Lines.Select(line => line.Points));
        Assert.Contains(", corrected,", Grade(rubric, corrected).Lines[1].Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("corrected", Grade(rubric, low).Lines[1].Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void OfMoreDerivativesThanExpectedAllCountAndMissingOnesCountNothing()
    {
        Rubric Expecting(int count) =>
            Only(r => r with { RangeWidth = new RangeWidth { Points = 10 }, ExpectedDerivatives = count });
        var two = Read(Observed.Dnph(122, 126), Observed.Semicarbazone(187, 188));
        var one = Read(Observed.Dnph(122, 126));

        Assert.Equal(7.5m, Grade(Expecting(1), two).Total);
        Assert.Equal(7.5m, Grade(Expecting(2), two).Total);
        Assert.Equal(5, Grade(Expecting(1), one).Total);
        Assert.Equal(2.5m, Grade(Expecting(2), one).Total);
        Assert.Contains("The average over the 2 derivatives reported is 75 %.", Grade(Expecting(1), two).Lines[0].Sentence, StringComparison.Ordinal);
        Assert.Contains("The average over the 2 derivatives expected is 25 %.", Grade(Expecting(2), one).Lines[0].Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("average", Grade(Expecting(1), one).Lines[0].Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("iodoform", 1, 10)] // Of one test offered one is expected, and the other one counts neither way.
    [InlineData("tollens", 1, 0)]
    [InlineData("fehling", 1, 0)] // Neither of the two reported is offered.
    [InlineData("iodoform tollens", 2, 5)]
    [InlineData("", 2, 5)]
    public void TestsThatTheCourseDoesNotOfferCountNeitherWay(string offered, int expected, double points)
    {
        var rubric = Only(r => r with { TestsFitCompound = new TestsFitCompound { Points = 10 } });
        var report = new Report { Observation = new Observation { SpotTests = [Observed.Positive("iodoform"), Observed.Positive("tollens")] } };
        var unknown = new Unknown("propanone", []) { SpotTestKeys = offered.Split(' ', StringSplitOptions.RemoveEmptyEntries) };

        var line = Grader.Grade(report, unknown, rubric, Five).Lines[0];

        Assert.Equal((decimal)points, line.Points);
        Assert.Contains($"; {expected} {(expected == 1 ? "is" : "are")} expected.", line.Sentence, StringComparison.Ordinal);
        Assert.Equal(offered is "" or "iodoform tollens", !line.Sentence.Contains("is no spot test that this course offers", StringComparison.Ordinal));
    }

    [Fact]
    public void MostCarefulReadingOfADerivativeIsTheOneMarked()
    {
        var rubric = Only(r => r with { RangeWidth = new RangeWidth { Points = 10 } });

        Assert.Equal(5, Grade(rubric, Read(Observed.Dnph(125, 126, Preparation.Crude), Observed.Dnph(122, 126))).Total);
    }

    [Theory]
    [InlineData(118, 124, 123, 126, 10)] // Narrower, and clears higher.
    [InlineData(120, 122, 121, 123, 10)] // As wide, but sharp enough.
    [InlineData(120, 123, 119, 122, 6)] // As wide as before and 1 °C lower, which is allowed.
    [InlineData(118, 124, 120, 123, 10)] // Narrower, 1 °C lower.
    [InlineData(118, 124, 121, 122.9, 6)] // Narrower, more than 1 °C lower.
    [InlineData(120, 123, 116, 120, 0)] // Wider and lower.
    public void RecrystallisingShouldSharpenAndNotLower(
        double crudeOnset, double crudeClear, double onset, double clear, double points)
    {
        var rubric = Only(r => r with { Recrystallisation = new Recrystallisation { Points = 10, OneShare = 0.6 } });
        var report = Read(
            Observed.Dnph(crudeOnset, crudeClear, Preparation.Crude), Observed.Dnph(onset, clear));

        Assert.Equal((decimal)points, Grade(rubric, report).Total);
    }

    [Fact]
    public void RecrystallisingNeedsBothRangesAndTakesTheSharpestOfEach()
    {
        var rubric = Only(r => r with { Recrystallisation = new Recrystallisation { Points = 10 } });

        Assert.Equal(0, Grade(rubric, Read(Observed.Dnph(125, 126))).Total);
        Assert.Equal(0, Grade(rubric, Read(Observed.Dnph(125, 126, Preparation.Crude))).Total);
        Assert.Equal(10, Grade(rubric, Read(
            Observed.Dnph(116, 126, Preparation.Crude), Observed.Dnph(120, 124, Preparation.Crude),
            Observed.Dnph(110, 120), Observed.Dnph(123, 126))).Total);
        Assert.Contains(
            "from 120–124 °C crude to 123–126 °C recrystallised",
            Grade(rubric, Read(
                Observed.Dnph(116, 126, Preparation.Crude), Observed.Dnph(120, 124, Preparation.Crude), Observed.Dnph(123, 126)))
                .Lines[0].Sentence,
            StringComparison.Ordinal);
        Assert.Contains(
            "from 119–123 °C crude to 123–126 °C recrystallised",
            Grade(rubric, Read(
                Observed.Dnph(120, 124, Preparation.Crude), Observed.Dnph(119, 123, Preparation.Crude), Observed.Dnph(123, 126)))
                .Lines[0].Sentence,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("enone", "enone", 10)]
    [InlineData("enone", "other-enone", 10)]
    [InlineData("enone", "ketone", 7.5)] // A ketone, but at no C=C.
    [InlineData("enone", "enal", 2.5)] // At a C=C, but an aldehyde.
    [InlineData("enone", "aldehyde", 0)]
    [InlineData("aryl-ketone", "ketone", 7.5)]
    [InlineData("aryl-ketone", "aryl-aldehyde", 2.5)]
    [InlineData("aryl-ketone", "aryl-enone", 7.5)]
    [InlineData("aryl-aldehyde", "furan-aldehyde", 10)]
    public void ClassIsTheFunctionAndWhatStandsAroundIt(string handedOut, string claimed, double points)
    {
        var rubric = Only(r => r with { RightClass = new RightClass { Points = 10, FunctionShare = 0.75 } });

        var grade = Grader.Grade(
            new Report { Observation = new Observation(), ClaimedParentKey = claimed }, new Unknown(handedOut, []), rubric, Classes());

        Assert.Equal((decimal)points, grade.Total);
        Assert.True(grade.Lines[0].TellsIdentity);
    }

    [Fact]
    public void FunctionClaimedWithoutACompoundEarnsItsShareAndNoClaimNothing()
    {
        var rubric = Only(r => r with { RightClass = new RightClass { Points = 10, FunctionShare = 0.75 } });
        var report = new Report { Observation = new Observation() };

        Assert.Equal(7.5m, Grade(rubric, report with { ClaimedKind = ParentKind.Ketone }).Total);
        Assert.Equal(0, Grade(rubric, report with { ClaimedKind = ParentKind.Aldehyde }).Total);
        Assert.Equal(0, Grade(rubric, report).Total);
        Assert.False(Grade(rubric, report).Lines[0].TellsIdentity);
    }

    [Fact]
    public void WrittenReasoningCountsNeitherWayUntilItIsMarkedAndTellsNoIdentity()
    {
        var line = Assert.Single(Grade(Only(r => r with { WrittenReasoning = new WrittenReasoning { Points = 5 } }), new Report { Observation = new Observation() }).Lines);

        Assert.Equal((0m, 0m, 5m, false), (line.Points, line.Maximum, line.ByHand, line.TellsIdentity));
    }

    [Theory]
    [InlineData(3, 0)]
    [InlineData(4, 4)]
    public void CreditForASetTheEvidenceCannotPartEndsWithItsLargestSize(int largest, double points)
    {
        // Four compounds of one 2,4-DNPH, one of them handed out and another claimed.
        var snapshot = TestTable.Snapshot([.. Enumerable.Range(0, 4).Select(i =>
            ($"k{i}", $"CC(=O){new string('C', i + 1)}", new double[] { 126 }, new double[] { 100 + (9 * i) }))]);
        var rubric = Only(r => r with
        {
            RightCompound = new RightCompound { Points = 10, GroupShare = 0.4, LargestGroup = largest },
        });

        Assert.Equal(
            (decimal)points,
            Grade(rubric, Read(Observed.Dnph(125, 126)) with { ClaimedParentKey = "k1" }, "k2", snapshot).Total);
        Assert.Equal(10, Grade(rubric, Read(Observed.Dnph(125, 126)) with { ClaimedParentKey = "k2" }, "k2", snapshot).Total);
    }

    [Fact]
    public void WithoutEvidenceNoSetIsInseparable()
    {
        var rubric = Only(r => r with { RightCompound = new RightCompound { Points = 10 } });
        var guess = new Report { Observation = new Observation(), ClaimedParentKey = "pinacolone" };

        Assert.Equal(0, Grade(rubric, guess).Total);
    }

    [Fact]
    public void ClaimIsBorneOutFullyByItsProbabilityThenByItsSetThenByItsRank()
    {
        // 126 °C leaves propanone and pinacolone, one about as probable as the other; pentan-3-one comes a far third.
        var report = Read(Observed.Dnph(125, 126));
        decimal Points(string claim, Func<SupportedClaim, SupportedClaim> change) =>
            Grade(
                Only(r => r with { SupportedClaim = change(new SupportedClaim { Points = 10, GroupShare = 0.7, RunnerUpShare = 0.3 }) }),
                report with { ClaimedParentKey = claim }).Total;
        var probability = new IdentificationEngine(Five).Weigh(report.Observation).ProbabilityOf(Five, "propanone");

        Assert.InRange(probability, 0.35, 0.65);
        Assert.Equal(10, Points("propanone", c => c with { FullPosterior = probability - 0.01 }));
        Assert.Equal(7, Points("propanone", c => c with { FullPosterior = probability + 0.05 }));
        Assert.Equal(7, Points("pinacolone", c => c with { LargestGroup = 2 }));
        Assert.Equal(3, Points("pinacolone", c => c with { LargestGroup = 1 }));
        Assert.Equal(0, Points("pinacolone", c => c with { LargestGroup = 1, RunnerUpRank = 1 }));
        Assert.Equal(3, Points("pinacolone", c => c with { LargestGroup = 1, RunnerUpRank = 2 }));
        Assert.Equal(0, Points("pinacolone", c => c with { LargestGroup = 1, RunnerUpPosterior = 0.7 }));
        Assert.Equal(0, Points("pentan-3-one", c => c));
    }

    [Fact]
    public void ClaimThatLeadsAloneIsSaidToDoSo()
    {
        var rubric = Only(r => r with { SupportedClaim = new SupportedClaim { Points = 10, FullPosterior = 1 } });
        var line = Grade(rubric, Read(Observed.Semicarbazone(187, 188)) with { ClaimedParentKey = "propanone" }).Lines[0];

        Assert.Equal(7.5m, line.Points);
        Assert.Contains("has rank 1", line.Sentence, StringComparison.Ordinal);
        Assert.Contains("it leads alone, short of 1", line.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void ClaimThatIsNotOnTheShelfRanksBehindAllOfIt()
    {
        var rubric = Only(r => r with { SupportedClaim = new SupportedClaim { Points = 10, RunnerUpPosterior = 0 } });
        var report = Read(Observed.Dnph(125, 126)) with { ClaimedParentKey = "pinacolone" };

        var line = Grader.Grade(report, new Unknown("propanone", ["propanone", "pentan-3-one", "acetophenone"]), rubric, Five).Lines[0];

        Assert.Equal(0, line.Points);
        Assert.Contains("has rank 5 and probability 0:", line.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void ShelfListKeepsOthersFromDrawingProbabilityAway()
    {
        var rubric = Only(r => r with { SupportedClaim = new SupportedClaim { Points = 10 } });
        var report = Read(Observed.Dnph(125, 126)) with { ClaimedParentKey = "propanone" };

        Assert.Equal(7.5m, Grade(rubric, report).Total);
        Assert.Equal(10, Grader.Grade(report, new Unknown("propanone", ["propanone", "pentan-3-one"]), rubric, Five).Total);
    }

    [Theory]
    [InlineData("iodoform+ tollens-", 10)]
    [InlineData("iodoform+", 5)]
    [InlineData("iodoform- tollens-", 5)]
    [InlineData("iodoform+ tollens+", 5)]
    [InlineData("iodoform+ tollens?", 8)]
    [InlineData("iodoform+ iodoform- tollens-", 8)] // Read twice and differently: doubtful.
    [InlineData("iodoform+ iodoform+ tollens-", 10)]
    [InlineData("iodoform+ tollens- schiff+ fehling-", 7.5)] // Three of four.
    [InlineData("iodoform+ tollens0", 5)] // Not done: not there.
    [InlineData("", 0)]
    public void TestsAreCountedAgainstWhatTheCompoundGives(string tests, double points)
    {
        var rubric = Only(r => r with
        {
            TestsFitClaim = new TestsFitClaim { Points = 10, DoubtfulShare = 0.6 },
            TestsFitCompound = new TestsFitCompound { Points = 10, DoubtfulShare = 0.6 },
        });
        var readings = tests.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(test => new SpotTestReading(test[..^1], test[^1] switch
        {
            '+' => SpotTestOutcome.Positive,
            '-' => SpotTestOutcome.Negative,
            '?' => SpotTestOutcome.Doubtful,
            _ => SpotTestOutcome.NotDone,
        }));
        var report = new Report
        {
            Observation = new Observation { SpotTests = [.. readings] },
            ClaimedParentKey = "benzaldehyde",
        };

        var lines = Grade(rubric, report).Lines;
        var claimed = Grade(rubric, report with { ClaimedParentKey = "propanone" }).Lines;

        Assert.Equal((decimal)points, lines.Single(line => line.Criterion == CriterionKind.TestsFitCompound).Points);
        Assert.Equal((decimal)points, claimed.Single(line => line.Criterion == CriterionKind.TestsFitClaim).Points);
        Assert.Equal(tests.Length > 0, lines.Single(line => line.Criterion == CriterionKind.TestsFitCompound).TellsIdentity);
        Assert.Equal(0, Grade(rubric, report with { ClaimedParentKey = null }).Lines[0].Points);
    }

    [Theory]
    [InlineData(0.66, "positive", "negative")]
    [InlineData(0.65, "positive negative", "")]
    [InlineData(0.35, "positive negative", "")]
    [InlineData(0.34, "negative", "positive")]
    public void TestThatMayGoEitherWayFitsEitherWay(double rate, string fit, string misfit)
    {
        var table = Five.Table;
        var snapshot = TableSnapshot.Build(
            table with
            {
                Responses = [.. table.Responses.Select(row =>
                    row is { TestKey: "iodoform", Order: 1 } ? row with { PositiveRate = rate } : row)],
            },
            TestTable.Settings);
        var rubric = Only(r => r with { TestsFitCompound = new TestsFitCompound { Points = 10 }, ExpectedTests = 1 });
        Grade Mark(string outcome) => Grade(
            rubric,
            new Report
            {
                Observation = new Observation
                {
                    SpotTests = [outcome == "positive" ? Observed.Positive("iodoform") : Observed.Negative("iodoform")],
                },
            },
            snapshot: snapshot);

        Assert.All(fit.Split(' '), outcome => Assert.Equal(10, Mark(outcome).Total));
        Assert.All(misfit.Split(' ', StringSplitOptions.RemoveEmptyEntries), outcome => Assert.Equal(0, Mark(outcome).Total));
        Assert.Equal(misfit.Length == 0, Mark("positive").Lines[0].Sentence.Contains("either outcome is expected of propanone", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(1, 0)]
    [InlineData(2, 0)]
    [InlineData(3, -3)]
    [InlineData(4, -6)]
    [InlineData(5, -7)]
    [InlineData(9, -7)]
    public void AttemptsBeyondTheFreeOnesAreDeductedUpToTheMost(int attempt, int points)
    {
        var rubric = Only(r => r with
        {
            RangeWidth = new RangeWidth { Points = 10 },
            Attempts = new AttemptsDeduction { FreeAttempts = 2, PointsPerAttempt = 3, MostPoints = 7 },
        });

        Assert.Equal(points, Grade(rubric, Read(Observed.Dnph(125, 126)) with { Attempt = attempt }).Lines[1].Points);
    }

    [Theory]
    [InlineData(-5, 0, 0)]
    [InlineData(0, 0, 0)]
    [InlineData(2, 0, 0)]
    [InlineData(2, 1, -3)]
    [InlineData(26, 0, -3)]
    [InlineData(26, 1, -6)]
    [InlineData(500, 0, -10)]
    public void EveryDayBegunAfterTheGraceIsDeductedUpToTheMost(int hours, int ticks, int points)
    {
        var rubric = Only(r => r with
        {
            RangeWidth = new RangeWidth { Points = 10 },
            Lateness = new LatenessDeduction { GraceHours = 2, PointsPerDay = 3, MostPoints = 10 },
        });
        var report = Read(Observed.Dnph(125, 126)) with { Lateness = TimeSpan.FromHours(hours) + TimeSpan.FromTicks(ticks) };

        var line = Grade(rubric, report).Lines[1];

        Assert.Equal(points, line.Points);
        Assert.Equal(hours <= 0, line.Sentence.StartsWith("It was handed in in time", StringComparison.Ordinal));
    }

    [Fact]
    public void DeductionsNeverTakeATotalBelowNothing()
    {
        var rubric = Only(r => r with
        {
            RangeWidth = new RangeWidth { Points = 1 },
            Attempts = new AttemptsDeduction { PointsPerAttempt = 3, MostPoints = 7 },
        });
        var grade = Grade(rubric, Read(Observed.Dnph(125, 126)) with { Attempt = 3 });

        Assert.Equal((0, 1), (grade.Total, grade.Maximum));
    }

    [Theory]
    [InlineData(0.5, 7.5)]
    [InlineData(1, 8)] // A half goes away from nought.
    [InlineData(3, 9)]
    [InlineData(0.01, 7.5)]
    public void PointsAreRoundedToTheStep(double step, double points)
    {
        var rubric = Only(r => r with { RangeWidth = new RangeWidth { Points = 10 }, PointStep = (decimal)step });

        Assert.Equal((decimal)points, Grade(rubric, Read(Observed.Dnph(123, 126))).Total);
    }

    [Fact]
    public void EveryPieceOfEvidenceCountsAsEvidenceAndDoubtfulTestsDoNot()
    {
        Observation[] evidence =
        [
            new() { Derivatives = [Observed.Dnph(125, 126)] },
            new() { Derivatives = [Observed.Came(TestTable.Dnph, Precipitate.None)] },
            new() { SpotTests = [Observed.Negative("tollens")] },
            new() { Derivatives = [new DerivativeReading(TestTable.Dnph, null, ColourKey: "red")] },
            new() { State = PhysicalState.Solid },
        ];
        Observation[] none =
        [
            new(),
            new() { SpotTests = [new SpotTestReading("tollens", SpotTestOutcome.Doubtful)] },
            new() { SpotTests = [new SpotTestReading("tollens", SpotTestOutcome.NotDone)] },
            new() { Derivatives = [Observed.Came(TestTable.Dnph, Precipitate.Crystals)] },

            // Nothing is listed to hold these against, and no course offers those.
            new() { BoilingPoint = new BoilingPointReading(new MeltingRange(55, 56)) },
            new() { MeltingPoint = new MeltingRange(20, 21) },
            new() { MolarMass = new MolarMassReading(58, 1) },
            new() { Elements = [new ElementReading(DetectableElement.Chlorine, false)] },
        ];
        bool HoldsNone(Observation observation) => Grade(
            Only(r => r with { SupportedClaim = new SupportedClaim { Points = 10 } }),
            new Report { Observation = observation, ClaimedParentKey = "propanone" })
            .Lines[0].Sentence.Contains("holds no evidence", StringComparison.Ordinal);

        Assert.All(evidence, observation => Assert.False(HoldsNone(observation)));
        Assert.All(none, observation => Assert.True(HoldsNone(observation)));
    }

    private static Rubric Only(Func<Rubric, Rubric> with) => with(new Rubric { Name = "One", PointStep = 0.01m });

    private static Report Read(params DerivativeReading[] derivatives) =>
        new() { Observation = new Observation { Derivatives = derivatives } };

    private static Grade Grade(Rubric rubric, Report report, string handedOut = "propanone", TableSnapshot? snapshot = null) =>
        Grader.Grade(report, new Unknown(handedOut, []), rubric, snapshot ?? Five);

    private static TableSnapshot Classes()
    {
        var table = TestTable.Table(
            ("ketone", "CC(C)=O", [126], []), ("enone", "CC(=O)C=C", [130], []), ("other-enone", "CC(=O)C=CC", [140], []),
            ("enal", "C=CC=O", [165], []), ("aldehyde", "CCC=O", [150], []), ("aryl-ketone", "CC(=O)c1ccccc1", [240], []),
            ("aryl-aldehyde", "O=Cc1ccccc1", [237], []), ("furan-aldehyde", "O=Cc1ccco1", [212], []),
            ("aryl-enone", "C=CC(=O)c1ccccc1", [200], []));
        return TableSnapshot.Build(
            table with
            {
                Parents = [.. table.Parents.Select(parent => parent with
                {
                    Kind = parent.Key is "enal" or "aldehyde" or "aryl-aldehyde" or "furan-aldehyde" ? ParentKind.Aldehyde : ParentKind.Ketone,
                })],
            },
            TestTable.Settings);
    }
}

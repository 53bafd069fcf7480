using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;
using Derivid.Core.Teaching.Grading;
using Derivid.Core.Tests.Ranking;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>What the line of a grade says, and which lines may be shown before the compound is told.</summary>
public sealed class SentenceTests
{
    private static readonly Report Complete = new()
    {
        Observation = new Observation
        {
            Derivatives = [Observed.Dnph(118, 124, Preparation.Crude), Observed.Dnph(124, 126), Observed.Semicarbazone(186, 188)],
            SpotTests = [Observed.Negative("tollens")],
        },
        ClaimedParentKey = "propanone",
    };

    [Fact]
    public void LineTellsTheIdentityWhereItComparesWithTheCompoundHandedOut() =>
        Assert.Equal(
            [
                CriterionKind.RightCompound, CriterionKind.RightClass, CriterionKind.SupportedClaim, CriterionKind.RangeWidth,
                CriterionKind.RangeDistance, CriterionKind.Recrystallisation, CriterionKind.TestsFitCompound,
            ],
            Grade(Complete).Lines.Where(line => line.TellsIdentity).Select(line => line.Criterion));

    [Fact]
    public void LineThatFindsNothingToCompareTellsNoIdentity()
    {
        var empty = Grade(new Report { Observation = new Observation() });
        var claimed = Grade(new Report { Observation = new Observation(), ClaimedParentKey = "propanone" });

        Assert.All(empty.Lines, line => Assert.False(line.TellsIdentity, line.Sentence));
        Assert.False(claimed.Lines.Single(line => line.Criterion == CriterionKind.SupportedClaim).TellsIdentity);
    }

    [Theory]
    [InlineData("aryl-ketone", "a ketone, handed out: a ketone (share 0.4); its carbonyl group stands at an aromatic ring, that of the one handed out stands at a C=C (share 0)")]
    [InlineData("aryl-enone", "a ketone, handed out: a ketone (share 0.4); its carbonyl group stands at an aromatic ring and a C=C, that of the one handed out stands at a C=C (share 0)")]
    [InlineData("enal", "an aldehyde, handed out: a ketone (share 0); its carbonyl group stands at a C=C, that of the one handed out stands at a C=C (share 0.6)")]
    [InlineData("ketone", "a ketone, handed out: a ketone (share 0.4); its carbonyl group stands at neither an aromatic ring nor a C=C, that of the one handed out stands at a C=C (share 0)")]
    public void ClassIsToldWithWhatEachHalfEarned(string claimed, string sentence)
    {
        var table = TestTable.Table(
            ("ketone", "CC(C)=O", [126], []), ("enone", "CC(=O)C=C", [130], []), ("enal", "C=CC=O", [165], []),
            ("aryl-ketone", "CC(=O)c1ccccc1", [240], []), ("aryl-enone", "C=CC(=O)c1ccccc1", [200], []));
        var snapshot = TableSnapshot.Build(
            table with
            {
                Parents = [.. table.Parents.Select(parent => parent with
                {
                    Kind = parent.Key == "enal" ? ParentKind.Aldehyde : ParentKind.Ketone,
                })],
            },
            TestTable.Settings);
        var rubric = new Rubric { Name = "One", RightClass = new RightClass { Points = 10, FunctionShare = 0.4 } };
        var report = new Report { Observation = new Observation(), ClaimedParentKey = claimed };

        var line = Assert.Single(Grader.Grade(report, new Unknown("enone", []), rubric, snapshot).Lines);
        Assert.Contains(sentence, line.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void TestIsToldWithWhatWasExpectedOfTheCompound()
    {
        var rubric = new Rubric { Name = "One", ExpectedTests = 2, TestsFitClaim = new TestsFitClaim { Points = 10 } };
        string Sentence(Report report) =>
            Assert.Single(Grader.Grade(report, new Unknown("propanone", []), rubric, TeachingTable.Five).Lines).Sentence;

        Assert.Contains("was negative, and negative is expected of propanone (it fits). Of 2 tests 1 fit;", Sentence(Complete), StringComparison.Ordinal);
        Assert.Contains("No spot test is reported. Of 2 tests 0 fit; 2 are expected.", Sentence(new Report
        {
            Observation = new Observation(),
            ClaimedParentKey = "propanone",
        }), StringComparison.Ordinal);
    }

    [Fact]
    public void ReadingsAreToldInOneOrderWhateverOrderTheyWereReportedIn()
    {
        // So two students who did the same read the same.
        var report = Complete with
        {
            Observation = Complete.Observation with
            {
                SpotTests = [Observed.Negative("tollens"), Observed.Positive("iodoform"), Observed.Negative("schiff")],
            },
        };
        var reversed = report with
        {
            Observation = report.Observation with
            {
                Derivatives = [.. report.Observation.Derivatives.Reverse()],
                SpotTests = [.. report.Observation.SpotTests.Reverse()],
            },
        };

        Assert.Equal(Sentences(report), Sentences(reversed));
        Assert.Contains(Sentences(report), sentence => InOrder(sentence, TestTable.Dnph, TestTable.Semicarbazone));
        Assert.Contains(Sentences(report), sentence => InOrder(sentence, "iodoform", "schiff", "tollens"));

        IEnumerable<string> Sentences(Report of) => Grade(of).Lines.Select(line => line.Sentence);

        static bool InOrder(string sentence, params string[] words)
        {
            var places = words.Select(word => sentence.IndexOf(word, StringComparison.Ordinal)).ToList();
            return !places.Contains(-1) && places.SequenceEqual(places.Order());
        }
    }

    [Fact]
    public void ClaimBehindALoneLeaderEarnsNoneOfTheLeadersShare()
    {
        var rubric = new Rubric { Name = "One", SupportedClaim = new SupportedClaim { Points = 10, FullPosterior = 1, RunnerUpPosterior = 1 } };
        var report = new Report
        {
            Observation = new Observation { Derivatives = [Observed.Semicarbazone(187, 188)] },
            ClaimedParentKey = "acetophenone",
        };

        Assert.Equal(0, Grader.Grade(report, new Unknown("propanone", []), rubric, TeachingTable.Five).Total);
    }

    [Fact]
    public void ReportHandedInDaysBeforeItIsDueLosesAndGainsNothing()
    {
        var rubric = new Rubric
        {
            Name = "One",
            Lateness = new LatenessDeduction { PointsPerDay = 3, MostPoints = 10 },
            RightCompound = new RightCompound { Points = 10 },
        };
        var early = Complete with { Lateness = TimeSpan.FromDays(-5) };

        var line = Grader.Grade(early, new Unknown("propanone", []), rubric, TeachingTable.Five).Lines
            .Single(line => line.Criterion == CriterionKind.Lateness);
        Assert.Equal(0, line.Points);
        Assert.StartsWith("It was handed in in time, so nothing is taken: 0 points.", line.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void FigureThatEarnsNothingIsToldFromWhereItMayStart()
    {
        var fault = Assert.Single(
            new Rubric { Name = "One", RangeWidth = new RangeWidth { Points = 4, FullSpanCelsius = 2, ZeroSpanCelsius = 1 } }.Faults());

        Assert.Contains("1 must lie from 2.01 to 50.", fault.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("alpha", "semicarbazone is no derivative that this course offers, so it earns nothing.", 2)]
    [InlineData("beta", "Of the derivatives that count in this course none has a melting range listed for the compound handed out: these 4 points count neither way.", 0)]
    public void DerivativeThatEarnsNothingIsToldWhy(string handedOut, string sentence, int most)
    {
        var snapshot = TestTable.Snapshot(("alpha", "CC(C)=O", [126], [188]), ("beta", "CCC(C)=O", [], [150]));
        var line = Of(handedOut, [TestTable.Dnph], snapshot, Observed.Semicarbazone(186, 188));

        Assert.Contains(sentence, line.Sentence, StringComparison.OrdinalIgnoreCase);
        Assert.Equal(most * 2, line.Maximum);
        Assert.DoesNotContain(handedOut, line.ForStudents ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void StudentsAreToldTheirReadingsAndTheRuleWithoutWhatIsListed()
    {
        var snapshot = TestTable.Snapshot(("alpha", "CC(C)=O", [126], [188]), ("beta", "CCC(C)=O", [150], []), ("gamma", "CCCC(C)=O", [126], [170]));
        string[] kinds = [TestTable.Dnph, TestTable.Semicarbazone];
        var far = Of("beta", kinds, snapshot, Observed.Dnph(124, 126));
        var alone = Of("beta", kinds, snapshot, Observed.Semicarbazone(124, 126));
        var two = Of("beta", kinds, snapshot, Observed.Semicarbazone(124, 126), Observed.Dnph(149, 150));

        Assert.Contains("clear at 126 °C is 24 °C from the 150 °C listed for the compound handed out, and more than 10 °C is not taken for its derivative (share 0)", far.Sentence, StringComparison.Ordinal);
        Assert.EndsWith("melted over 2 °C (100 % of the points). All points are for a range of 2 °C or less, none for one of 6 °C or more. A range more than 10 °C from those listed for the compound handed out earns none of the points for ranges, and one with nothing listed counts neither way. These points are averaged over the derivatives reported. 0 of 4 points.", far.ForStudents, StringComparison.Ordinal);
        Assert.Equal(far.ForStudents!.Replace("0 of 4 points.", "4 of 4 points.", StringComparison.Ordinal), Of("alpha", kinds, snapshot, Observed.Dnph(124, 126)).ForStudents);
        Assert.Contains("Another derivative of this course is listed for it, so these points could be earned; they can be given by hand.", alone.Sentence, StringComparison.Ordinal);
        Assert.Contains("has nothing listed for the compound handed out and counts neither way", two.Sentence, StringComparison.Ordinal);
        Assert.Equal(4, two.Points);
    }

    // The points are told, and the sentence beside them is to tell no more: with the same report and points it is the same.
    [Fact]
    public void WhatStudentsAreToldHangsOnReportAndPointsAlone()
    {
        foreach (var claim in TeachingTable.Five.Parents.Select(parent => parent.Key))
        {
            foreach (var share in (double[])[0, 0.5, 0.99, 1])
            {
                var rubric = Rubrics.Full with { RightCompound = new RightCompound { Points = 10, GroupShare = share }, RightClass = new RightClass { Points = 4, FunctionShare = share } };
                var lines = TeachingTable.Five.Parents
                    .SelectMany(handedOut => Grader.Grade(Complete with { ClaimedParentKey = claim }, new Unknown(handedOut.Key, []), rubric, TeachingTable.Five).Lines)
                    .GroupBy(line => (line.Criterion, line.Points, line.Maximum));

                Assert.All(lines, alike => Assert.Single(alike.Select(StudentSentences.Of).Distinct()));
            }
        }
    }

    [Theory]
    [InlineData("propanone", 10, "You named propanone, which is what you were given. 10 of 10 points.")]
    [InlineData("benzaldehyde", 0, "You named benzaldehyde, which is not what you were given. 0 of 10 points.")]
    public void StudentIsToldInWordsWhatThePointsForTheCompoundTell(string claim, int points, string sentence)
    {
        var line = Grade(Complete with { ClaimedParentKey = claim }).Lines[0];

        Assert.Equal(points, line.Points);
        Assert.Equal(sentence, StudentSentences.Of(line));
    }

    [Fact]
    public void FeedbackTellsThePointsOfEachLineAndTheRuleOfRangesOnce()
    {
        var told = Grade(Complete).Lines.Select(StudentSentences.Of).ToList();

        Assert.All(told, sentence => Assert.Matches(@"[0-9]+ points?\.$", sentence));
        Assert.Single(told, sentence => sentence.Contains("A range more than 10 °C from those listed", StringComparison.Ordinal));
    }

    private static GradeLine Of(string handedOut, string[] kinds, TableSnapshot snapshot, params DerivativeReading[] readings) =>
        Assert.Single(Grader.Grade(
            new Report { Observation = new Observation { Derivatives = readings } },
            new Unknown(handedOut, []) { KindKeys = kinds },
            new Rubric { Name = "One", RangeWidth = new RangeWidth { Points = 4 } },
            snapshot).Lines);

    private static Grade Grade(Report report) =>
        Grader.Grade(report, new Unknown("propanone", []), Rubrics.Full, TeachingTable.Five);
}

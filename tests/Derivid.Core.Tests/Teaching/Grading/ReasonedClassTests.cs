using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Core.Tests.Teaching.Grading;

/// <summary>A class that is worth its reasons, graded with pencil and paper.</summary>
[Trait("Kind", "Worked")]
public sealed class ReasonedClassTests
{
    private static readonly string[] Shelf = ["propanone", "pinacolone", "pentan-3-one", "acetophenone", "benzaldehyde"];

    /// <summary>
    /// Handed out: propanone, a ketone at neither ring nor C=C. 10 points, a half of them for the function, a share of 0.4 without a reason.
    /// Of the shelf Tollens is expected positive of benzaldehyde alone, an aldehyde at a ring; iodoform positive of propanone, pinacolone
    /// and acetophenone, negative of pentan-3-one and benzaldehyde.
    /// </summary>
    public static TheoryData<string, string, string, decimal> Reports => new()
    {
        // The compound itself: no reason is asked for. 1 of 10.
        { "propanone", "", "", 10 },

        // The class is right in both halves, without a reason: 0.4 of 10.
        { "pentan-3-one", "", "", 4 },

        // Tollens negative, as of both, and the aldehyde would have been positive: a reason. 1 of 10.
        { "pentan-3-one", "tollens negative", "", 10 },

        // It turned out the wrong way, or nobody could say: none. 0.4 of 10, twice.
        { "pentan-3-one", "tollens positive", "", 4 },
        { "pentan-3-one", "tollens doubtful", "", 4 },

        // Iodoform negative is as of pentan-3-one, but not of propanone; positive the other way round. Neither bears the claim out: 0.4 of 10.
        { "pentan-3-one", "iodoform negative", "", 4 },
        { "pentan-3-one", "iodoform positive", "", 4 },

        // Iodoform positive is as of both methyl ketones, and benzaldehyde would have been negative: a reason. 1 of 10.
        { "pinacolone", "iodoform positive", "", 10 },

        // The function is right, but not the surroundings: 0.5 of 10 with Tollens negative; without it 0.4 of that.
        { "acetophenone", "tollens negative", "", 5 },
        { "acetophenone", "", "", 2 },

        // A function without a compound can earn its half, with a reason, and 0.4 of it without.
        { "a ketone", "tollens negative", "", 5 },
        { "a ketone", "", "", 2 },

        // Neither half is right: a reason makes nothing of nothing.
        { "benzaldehyde", "tollens negative", "", 0 },

        // A test that the course doesn't offer is none; iodoform, which it does, could have been one: 0.4 of 10.
        { "pentan-3-one", "tollens negative", "iodoform", 4 },
    };

    [Theory]
    [MemberData(nameof(Reports))]
    public void ReportMatchesTheArithmeticDoneByHand(string claim, string test, string offered, decimal points)
    {
        var unknown = new Unknown("propanone", Shelf) { SpotTestKeys = offered.Length == 0 ? ["tollens", "iodoform"] : [offered] };

        Assert.Equal(points, Grade(claim, test, unknown).Points);
    }

    // Three ketones of one class: whatever is run, no class is told from another, so the points aren't out of reach.
    [Fact]
    public void WhereNoTestCouldBeAReasonNoneIsAskedFor()
    {
        var line = Grade("pentan-3-one", "", new Unknown("propanone", ["propanone", "pinacolone", "pentan-3-one"]) { SpotTestKeys = ["tollens", "iodoform"] });

        Assert.Equal(10, line.Points);
        Assert.Contains("no reason is asked for", line.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void GraderIsToldTheReasonAndStudentsWhichTestsTellClassesApart()
    {
        var unknown = new Unknown("propanone", Shelf) { SpotTestKeys = ["tollens", "iodoform"] };
        var reasoned = Grade("pentan-3-one", "tollens negative", unknown);
        var bare = Grade("pentan-3-one", "", unknown);

        Assert.Contains("Reasons for the class: tollens.", reasoned.Sentence, StringComparison.Ordinal);
        Assert.Contains("(share 0.4 of that)", bare.Sentence, StringComparison.Ordinal);
        Assert.Contains("are told apart by: tollens.", StudentSentences.Of(reasoned), StringComparison.Ordinal);
        Assert.Contains("No test reported tells classes of the shelf apart.", StudentSentences.Of(bare), StringComparison.Ordinal);
    }

    // The same report and points on another compound of the class, and the same words: a student learns nothing of which it was.
    [Fact]
    public void WordsForStudentsHangOnReportAndShelfAlone()
    {
        var words = Shelf.Select(handedOut => StudentSentences.Of(Grade("pinacolone", "tollens negative", new Unknown(handedOut, Shelf)
        {
            SpotTestKeys = ["tollens", "iodoform"],
        })));

        // But for the points at their end.
        Assert.Single(words.Select(each => string.Join(". ", each.Split(". ")[..^1])).Distinct());
    }

    [Fact]
    public void WithoutAskingForReasonsNothingIsSaidOfThem()
    {
        var rubric = new Rubric { Name = "One", RightClass = new RightClass { Points = 10 } };
        var line = Assert.Single(Grader.Grade(Report("pentan-3-one", ""), new Unknown("propanone", Shelf), rubric, TeachingTable.Five).Lines);

        Assert.Equal(10, line.Points);
        Assert.DoesNotContain("reason", line.Sentence, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("reason", line.ForStudents, StringComparison.OrdinalIgnoreCase);
    }

    private static GradeLine Grade(string claim, string test, Unknown unknown)
    {
        var rubric = new Rubric { Name = "One", RightClass = new RightClass { Points = 10, UnreasonedShare = 0.4 } };
        return Assert.Single(Grader.Grade(Report(claim, test), unknown, rubric, TeachingTable.Five).Lines);
    }

    private static Report Report(string claim, string test) => new()
    {
        ClaimedParentKey = claim == "a ketone" ? null : claim,
        ClaimedKind = claim == "a ketone" ? ParentKind.Ketone : null,
        Observation = new Observation
        {
            SpotTests = test.Length == 0 ? [] : [new SpotTestReading(test.Split(' ')[0], Enum.Parse<SpotTestOutcome>(test.Split(' ')[1], ignoreCase: true))],
        },
    };
}

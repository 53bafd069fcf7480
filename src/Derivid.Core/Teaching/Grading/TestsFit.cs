using System.ComponentModel.DataAnnotations;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for spot tests that turned out as a compound is expected to turn them out.</summary>
/// <remarks>
/// A test that turned out as expected, or that the table lets go either way, counts 1; one that turned out the other way
/// counts 0; a doubtful one, or one reported both ways, counts <see cref="DoubtfulShare"/>. The sum is divided by the number of
/// tests reported, or by the rubric's expected number if that is larger; of fewer tests that a course offers no more are expected.
/// A test that the course doesn't offer counts neither way.
/// </remarks>
public abstract record TestsFit : PointsCriterion
{
    /// <summary>What a doubtful outcome counts.</summary>
    [Range(0.0, 1.0)]
    public double DoubtfulShare { get; init; } = 0.5;

    internal GradeLine Mark(ReadReport report, Rubric rubric, int parent, bool tellsIdentity)
    {
        var outcomes = report.TestOutcomes;
        var counted = outcomes.Sum(pair => Count(pair.Outcome, report.Snapshot.SpotTests.Expected(pair.TestKey, parent)));
        var expected = Math.Min(rubric.ExpectedTests, report.OfferedTestKeys.Count);
        var divisor = Math.Max(expected, outcomes.Count);
        var words = outcomes.Count == 0
            ? StudentSentences.NoTest()
            : string.Join("; ", outcomes.Select(pair => Words(pair.TestKey, pair.Outcome, parent, report)));
        return Line(
            divisor == 0 ? 0 : counted / divisor,
            StudentSentences.TestsCounted(words, counted, divisor, expected) + report.NotOfferedTests,
            rubric,
            tellsIdentity && outcomes.Count > 0,
            StudentSentences.TestsCompared(outcomes.Count, expected, DoubtfulShare) + report.NotOfferedTests);
    }

    private double Count(SpotTestOutcome seen, SpotTestOutcome expected) =>
        seen == SpotTestOutcome.Doubtful ? DoubtfulShare
        : expected == SpotTestOutcome.Doubtful || seen == expected ? 1
        : 0;

    private string Words(string testKey, SpotTestOutcome seen, int parent, ReadReport report)
    {
        var expected = report.Snapshot.SpotTests.Expected(testKey, parent);
        var name = report.Snapshot.SpotTests.Row(testKey).Test.Name;
        var wanted = expected == SpotTestOutcome.Doubtful ? "either outcome" : Word(expected);
        return StudentSentences.TestFound(name, Word(seen), wanted, report.NameOf(parent), Count(seen, expected));
    }

    private static string Word(SpotTestOutcome outcome) =>
        outcome switch
        {
            SpotTestOutcome.Positive => "positive",
            SpotTestOutcome.Negative => "negative",
            SpotTestOutcome.Doubtful => "doubtful",
            SpotTestOutcome.NotDone => "not done",
        };
}

/// <summary>Points for spot tests that fit the compound claimed: does the report hang together?</summary>
public sealed record TestsFitClaim : TestsFit
{
    internal override CriterionKind Kind => CriterionKind.TestsFitClaim;

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        report.Claim is { } claim
            ? Mark(report, rubric, claim, tellsIdentity: false)
            : Line(0, StudentSentences.NoCompoundClaimed(), rubric, tellsIdentity: false);
}

/// <summary>Points for spot tests that fit the compound handed out: were they run and read well?</summary>
public sealed record TestsFitCompound : TestsFit
{
    internal override CriterionKind Kind => CriterionKind.TestsFitCompound;

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        Mark(report, rubric, report.Identity, tellsIdentity: true);
}

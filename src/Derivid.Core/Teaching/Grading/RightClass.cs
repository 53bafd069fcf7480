using System.ComponentModel.DataAnnotations;
using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// Points for claiming a compound of the class of the one handed out: its function, and whether the carbonyl group stands at
/// an aromatic ring and at a C=C.
/// </summary>
/// <remarks>
/// The class has two parts: the function (aldehyde, ketone, both, masked), and what the carbonyl group is joined to
/// (whether an aromatic ring, whether a C=C). A claim of a function without a compound can earn the first part.
/// Where the compound isn't the one handed out, a class can be worth its reasons only: a reason is a spot test of the course that
/// turned out as expected of the compound handed out, and of the one claimed, and is expected to turn out the other way for a compound of another class
/// on the shelf. Where no test of the course could be one, none is asked for.
/// </remarks>
public sealed record RightClass : PointsCriterion
{
    private const StructureFeature Aryl =
        StructureFeature.AromaticAldehyde | StructureFeature.HeteroaromaticAldehyde | StructureFeature.ArylKetone;

    private const StructureFeature Conjugated = StructureFeature.ConjugatedEnal | StructureFeature.ConjugatedEnone;

    internal override CriterionKind Kind => CriterionKind.RightClass;

    /// <summary>Share for the function; the surroundings earn the rest.</summary>
    [Range(0.0, 1.0)]
    public double FunctionShare { get; init; } = 0.5;

    /// <summary>
    /// Share of what the class of another compound earns where no reason for it is reported, no test that tells classes of the shelf
    /// apart and turned out as it should. The default asks for no reasons.
    /// </summary>
    [Range(0.0, 1.0)]
    public double UnreasonedShare { get; init; } = 1;

    internal override GradeLine Mark(ReadReport report, Rubric rubric)
    {
        var handedOut = report.Snapshot.Parents[report.Identity].Kind;
        var claimed = report.Claim is { } parent ? report.Snapshot.Parents[parent].Kind : report.Report.ClaimedKind;
        if (claimed is null)
        {
            return Line(0, StudentSentences.NothingClaimed(), rubric, tellsIdentity: false);
        }

        var isFunctionRight = claimed == handedOut;
        var areSurroundingsRight = report.Claim is { } claim
            && Surroundings(report, claim) == Surroundings(report, report.Identity);
        var share = (isFunctionRight ? FunctionShare : 0) + (areSurroundingsRight ? 1 - FunctionShare : 0);
        var around = report.Claim is { } named
            ? $"its carbonyl group {Words(Surroundings(report, named))}, that of the one handed out {Words(Surroundings(report, report.Identity))} (share {Text(areSurroundingsRight ? 1 - FunctionShare : 0)})"
            : "no compound is claimed, so its surroundings earn nothing";
        var found = $"Claimed: {Word(claimed.Value)}, handed out: {Word(handedOut)} (share {Text(isFunctionRight ? FunctionShare : 0)}); {around}.";
        var (function, surroundings) = (PointsFor(FunctionShare, rubric), PointsFor(1 - FunctionShare, rubric));
        return UnreasonedShare >= 1
            ? Line(share, found, rubric, tellsIdentity: true, StudentSentences.ClassNamed(
                PointsFor(share, rubric), Math.Min(function, surroundings), Math.Max(function, surroundings), PointsFor(1, rubric)))
            : Reasoned(report, share, found, rubric);
    }

    private GradeLine Reasoned(ReadReport report, double share, string found, Rubric rubric)
    {
        var names = report.TestOutcomes.Where(test => TellsClasses(report, test.TestKey))
            .Select(test => report.Snapshot.SpotTests.Row(test.TestKey).Test.Name).ToList();
        var reasons = report.TestOutcomes.Where(test => IsReason(report, test.TestKey, test.Outcome))
            .Select(test => report.Snapshot.SpotTests.Row(test.TestKey).Test.Name).ToList();
        var isAsked = report.Claim != report.Identity && report.OfferedTestKeys.Any(test =>
            IsReason(report, test, SpotTestOutcome.Positive, ofClaim: false) || IsReason(report, test, SpotTestOutcome.Negative, ofClaim: false));
        var why = report.Claim == report.Identity ? " It is the compound handed out, so no reason is asked for."
            : !isAsked ? " No test of the course tells its class from others of the shelf, so no reason is asked for."
            : reasons.Count == 0 ? $" No test that tells its class from others of the shelf turned out as it should (share {Text(UnreasonedShare)} of that)."
            : $" Reasons for the class: {string.Join(", ", reasons)}.";
        return Line(
            share * (isAsked && reasons.Count == 0 ? UnreasonedShare : 1),
            found + why,
            rubric,
            tellsIdentity: true,
            StudentSentences.ClassWithReasons(UnreasonedShare, names));
    }

    private static bool IsReason(ReadReport report, string test, SpotTestOutcome seen, bool ofClaim = true)
    {
        var tests = report.Snapshot.SpotTests;
        return seen is SpotTestOutcome.Positive or SpotTestOutcome.Negative
            && tests.Expected(test, report.Identity) == seen
            && (!ofClaim || report.Claim is not { } claim || tests.Expected(test, claim) == seen)
            && report.Shelf.Any(other => ClassOf(report, other) != ClassOf(report, report.Identity) && tests.Expected(test, other) == Opposite(seen));
    }

    // Without regard to what was handed out, so that a student can be told.
    private static bool TellsClasses(ReadReport report, string test)
    {
        var tests = report.Snapshot.SpotTests;
        var positive = report.Shelf.Where(parent => tests.Expected(test, parent) == SpotTestOutcome.Positive).Select(parent => ClassOf(report, parent)).ToHashSet();
        var negative = report.Shelf.Where(parent => tests.Expected(test, parent) == SpotTestOutcome.Negative).Select(parent => ClassOf(report, parent)).ToHashSet();
        return positive.Any(one => negative.Any(other => one != other));
    }

    private static SpotTestOutcome Opposite(SpotTestOutcome outcome) =>
        outcome == SpotTestOutcome.Positive ? SpotTestOutcome.Negative : SpotTestOutcome.Positive;

    private static (ParentKind Function, (bool IsAryl, bool IsConjugated) Surroundings) ClassOf(ReadReport report, int parent) =>
        (report.Snapshot.Parents[parent].Kind, Surroundings(report, parent));

    private static (bool IsAryl, bool IsConjugated) Surroundings(ReadReport report, int parent)
    {
        var features = report.Snapshot.Features[parent];
        return ((features & Aryl) != 0, (features & Conjugated) != 0);
    }

    private static string Words((bool IsAryl, bool IsConjugated) surroundings) =>
        surroundings switch
        {
            (true, true) => "stands at an aromatic ring and a C=C",
            (true, false) => "stands at an aromatic ring",
            (false, true) => "stands at a C=C",
            _ => "stands at neither an aromatic ring nor a C=C",
        };

    private static string Word(ParentKind kind) =>
        kind switch
        {
            ParentKind.Aldehyde => "an aldehyde",
            ParentKind.Ketone => "a ketone",
            ParentKind.Both => "aldehyde and ketone in one",
            ParentKind.Masked => "a masked carbonyl compound",
        };
}

using System.ComponentModel.DataAnnotations;
using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Teaching.Grading;

/// <summary>
/// Points for claiming a compound of the class of the one handed out: its function, and whether the carbonyl group stands at
/// an aromatic ring and at a C=C.
/// </summary>
/// <remarks>
/// The class has two parts: the function (aldehyde, ketone, both, masked), and what the carbonyl group is joined to
/// (whether an aromatic ring, whether a C=C). A claim of a function without a compound can earn the first part.
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
        return Line(
            share,
            $"Claimed: {Word(claimed.Value)}, handed out: {Word(handedOut)} (share {Text(isFunctionRight ? FunctionShare : 0)}); {around}.",
            rubric,
            tellsIdentity: true);
    }

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

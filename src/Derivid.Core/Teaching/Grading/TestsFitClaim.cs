namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for spot tests that fit the compound claimed: does the report hang together?</summary>
public sealed record TestsFitClaim : TestsFit
{
    internal override CriterionKind Kind => CriterionKind.TestsFitClaim;

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        report.Claim is { } claim
            ? Mark(report, rubric, claim, tellsIdentity: false)
            : Line(0, "No compound is claimed.", rubric, tellsIdentity: false);
}

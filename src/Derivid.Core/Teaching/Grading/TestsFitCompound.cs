namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for spot tests that fit the compound handed out: were they run and read well?</summary>
public sealed record TestsFitCompound : TestsFit
{
    internal override CriterionKind Kind => CriterionKind.TestsFitCompound;

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        Mark(report, rubric, report.Identity, tellsIdentity: true);
}

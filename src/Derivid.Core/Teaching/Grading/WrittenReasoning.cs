namespace Derivid.Core.Teaching.Grading;

/// <summary>Points for the written reasoning, which a person gives.</summary>
/// <remarks>Until they are given it counts neither way: nothing earned, and nothing that could have been.</remarks>
public sealed record WrittenReasoning : PointsCriterion
{
    internal override CriterionKind Kind => CriterionKind.WrittenReasoning;

    internal override GradeLine Mark(ReadReport report, Rubric rubric) =>
        new(Kind, 0, 0, StudentSentences.NotMarkedYet(Points), TellsIdentity: false) { ByHand = Points };
}

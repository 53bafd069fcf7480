namespace Derivid.Core.Teaching.Grading;

/// <summary>The points of one criterion and why.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Points">Points given; below zero where points are taken.</param>
/// <param name="Maximum">Most points it could give; 0 where it only takes.</param>
/// <param name="Sentence">What was found, what was asked for and how the points follow.</param>
/// <param name="TellsIdentity">
/// Whether the sentence gives something of the answer away, so that it is for graders only. The points are not secret
/// once grades are handed out.
/// </param>
public sealed record GradeLine(
    CriterionKind Criterion, decimal Points, decimal Maximum, string Sentence, bool TellsIdentity);

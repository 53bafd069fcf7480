namespace Derivid.Core.Teaching.Grading;

/// <summary>A figure of a rubric that is out of bounds.</summary>
/// <param name="Criterion">The criterion it belongs to. Missing: null, the rubric itself.</param>
/// <param name="Field">The figure, by the name of its property.</param>
/// <param name="Sentence">The value and what is allowed.</param>
public sealed record RubricFault(CriterionKind? Criterion, string Field, string Sentence);

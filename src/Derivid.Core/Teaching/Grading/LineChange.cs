namespace Derivid.Core.Teaching.Grading;

/// <summary>What became of one criterion when a report was graded again.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Before">The line before. Missing: null, it was not marked.</param>
/// <param name="After">The line now. Missing: null, it is not marked any more.</param>
public sealed record LineChange(CriterionKind Criterion, GradeLine? Before, GradeLine? After);

namespace Derivid.Client.Teaching;

/// <summary>What became of one criterion.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Before">In the first grading. Missing: it was not marked.</param>
/// <param name="After">In the second grading. Missing: it was not marked.</param>
public sealed record LineChangeItem(string Criterion, GradeLineItem? Before, GradeLineItem? After);

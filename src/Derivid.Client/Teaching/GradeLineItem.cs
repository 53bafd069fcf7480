namespace Derivid.Client.Teaching;

/// <summary>The points of one criterion and why.</summary>
/// <param name="Criterion">The criterion.</param>
/// <param name="Points">Points given; below 0 where points are taken.</param>
/// <param name="Maximum">Most points it could give; 0 where it only takes.</param>
/// <param name="Sentence">Why. For students without what would give the answer away.</param>
public sealed record GradeLineItem(string Criterion, double Points, double Maximum, string Sentence);

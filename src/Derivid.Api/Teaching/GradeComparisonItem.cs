namespace Derivid.Api.Teaching;

/// <summary>Two gradings side by side.</summary>
/// <param name="Compared">Reports graded in both.</param>
/// <param name="Changed">Reports whose points or sentences differ.</param>
/// <param name="Items">The reports that differ, by id.</param>
public sealed record GradeComparisonItem(int Compared, int Changed, IReadOnlyList<ComparisonItem> Items);

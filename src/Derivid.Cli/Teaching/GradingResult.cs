using Derivid.Client.Teaching;

namespace Derivid.Cli.Teaching;

/// <summary>What came of a grading.</summary>
internal sealed record GradingResult(GradingStatus Grading, IReadOnlyList<GradeItem> Grades);

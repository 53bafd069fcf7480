namespace Derivid.Api.Teaching;

/// <summary>One line of a grading that is watched.</summary>
/// <param name="Id">The grading.</param>
/// <param name="State">How far it is.</param>
/// <param name="Done">Reports done.</param>
/// <param name="Total">Reports in all.</param>
public sealed record GradingProgress(string Id, GradingState State, int Done, int Total);

namespace Derivid.Store.Teaching;

/// <summary>A grading and how far it is.</summary>
/// <param name="Grading">The grading.</param>
/// <param name="Done">Reports done.</param>
public sealed record GradingDone(Grading Grading, int Done);

namespace Derivid.Store.Teaching;

/// <summary>The report that counts for an assignment.</summary>
/// <param name="Id">The report.</param>
/// <param name="StudentKey">The student.</param>
/// <param name="Number">Number of the assignment among the student's.</param>
/// <param name="Attempt">Which attempt it is.</param>
public sealed record CountedReport(string Id, string StudentKey, int Number, int Attempt);

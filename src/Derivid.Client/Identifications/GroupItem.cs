namespace Derivid.Client.Identifications;

/// <summary>Candidates the evidence cannot tell apart.</summary>
/// <param name="Parents">Their keys, in order of rank.</param>
/// <param name="Posterior">Their probabilities added up.</param>
/// <param name="SeparatedBy">The step expected to separate them best. Missing: nothing in the table does.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record GroupItem(
    IReadOnlyList<string> Parents, double Posterior, NextStepItem? SeparatedBy, string Sentence);

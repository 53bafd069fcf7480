namespace Derivid.Core.Ranking;

/// <summary>Candidates that the evidence given cannot tell apart, as a ranking shows them; see <see cref="CandidateGroups"/>.</summary>
/// <param name="ParentKeys">Shape: two or more, in order of rank.</param>
/// <param name="Posterior">Their probabilities added up.</param>
/// <param name="SeparatedBy">The step expected to separate them best. Missing: null, nothing in the table does.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record CandidateGroup(
    IReadOnlyList<string> ParentKeys,
    double Posterior,
    NextStep? SeparatedBy,
    string Sentence);

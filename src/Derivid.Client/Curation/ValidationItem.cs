namespace Derivid.Client.Curation;

/// <summary>What the rules say of the table a proposal makes.</summary>
/// <param name="Errors">How many errors there are; with none it can be submitted and released.</param>
/// <param name="Warnings">How many warnings there are.</param>
/// <param name="Findings">Errors before warnings, those the proposal brings before those it found; the first 1000.</param>
public sealed record ValidationItem(int Errors, int Warnings, IReadOnlyList<FindingItem> Findings);

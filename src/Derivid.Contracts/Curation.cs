using System.ComponentModel.DataAnnotations;
using System.Text.Json;
using Derivid.Core.Curation;

namespace Derivid.Contracts;

/// <summary>A proposal to be made.</summary>
public sealed record ProposalRequest
{
    /// <summary>Longest title. Units: characters.</summary>
    public const int LongestTitle = 200;

    /// <summary>Longest reason. Units: characters.</summary>
    public const int LongestReason = 2000;

    /// <summary>What it is about, in a line.</summary>
    [StringLength(LongestTitle)]
    public required string Title { get; init; }

    /// <summary>Why, with the sources. Missing: the title says it.</summary>
    [StringLength(LongestReason)]
    public string? Reason { get; init; }

    /// <summary>A version to go back to: the proposal begins with all that differs from it. Missing: it begins empty.</summary>
    [Range(1, int.MaxValue)]
    public int? RestoresVersion { get; init; }
}

/// <summary>Title and reason of a proposal.</summary>
public sealed record ProposalDescription
{
    /// <summary>What it is about, in a line.</summary>
    [StringLength(ProposalRequest.LongestTitle)]
    public required string Title { get; init; }

    /// <summary>Why, with the sources. Missing: the title says it.</summary>
    [StringLength(ProposalRequest.LongestReason)]
    public string? Reason { get; init; }
}

/// <summary>A proposal to change the table.</summary>
/// <param name="Id">Names it in addresses.</param>
/// <param name="Title">What it is about.</param>
/// <param name="Reason">Why. Missing: nobody said.</param>
/// <param name="State">How far it has come.</param>
/// <param name="Revision">Counts its writes; the ETag of this answer.</param>
/// <param name="BaseVersion">Version of the table its changes were made against.</param>
/// <param name="RestoresVersion">The version it goes back to. Missing: it is no roll-back.</param>
/// <param name="Authors">Everyone who had a hand in it; none of them may review it.</param>
/// <param name="CreatedAt">When it was made (RFC 3339, UTC).</param>
/// <param name="UpdatedAt">When it was last written (RFC 3339, UTC).</param>
/// <param name="ReviewedBy">Who reviewed it last. Missing: nobody yet.</param>
/// <param name="ReviewNote">What they said; what was said before stands among the remarks. Missing: nothing.</param>
/// <param name="ReleasedVersion">The version it became. Missing: it isn't released.</param>
public sealed record ProposalItem(
    string Id,
    string Title,
    string? Reason,
    ProposalState State,
    int Revision,
    int BaseVersion,
    int? RestoresVersion,
    IReadOnlyList<string> Authors,
    DateTime CreatedAt,
    DateTime UpdatedAt,
    string? ReviewedBy,
    string? ReviewNote,
    int? ReleasedVersion);

/// <summary>What is to become of one record: either the whole record, or its removal.</summary>
public sealed record RecordChangeRequest
{
    /// <summary>
    /// The record as it is to be, with every field, as lists and exports write it; "computed" in it is passed over. Missing:
    /// it is to be removed.
    /// </summary>
    public JsonElement? Record { get; init; }

    /// <summary>Whether it is to be left out of the table. Missing: false.</summary>
    public bool? Remove { get; init; }
}

/// <summary>What a reviewer says of a proposal.</summary>
public sealed record ReviewRequest
{
    /// <summary>Whether it may be released, or goes back to its authors.</summary>
    public required ReviewVerdict Verdict { get; init; }

    /// <summary>Why. Missing: nothing to say.</summary>
    [StringLength(2000)]
    public string? Note { get; init; }
}

/// <summary>What a review comes to.</summary>
public enum ReviewVerdict
{
    /// <summary>It may be released.</summary>
    Approve,

    /// <summary>It goes back to its authors.</summary>
    HandBack,
}

/// <summary>A release.</summary>
public sealed record ReleaseRequest
{
    /// <summary>What the version is to say of itself. Missing: the proposal's title.</summary>
    [StringLength(500)]
    public string? Note { get; init; }
}

/// <summary>A remark to be made.</summary>
public sealed record CommentRequest
{
    /// <summary>The remark.</summary>
    [StringLength(2000)]
    public required string Text { get; init; }
}

/// <summary>A remark on a proposal.</summary>
/// <param name="Author">Who made it.</param>
/// <param name="At">When (RFC 3339, UTC).</param>
/// <param name="Text">The remark.</param>
/// <param name="Occasion">The step it was said with. Missing: it is a remark by itself.</param>
public sealed record CommentItem(string Author, DateTime At, string Text, RemarkOccasion? Occasion);

/// <summary>The remarks on a proposal and what was said with its steps, oldest first.</summary>
/// <param name="Items">The remarks.</param>
public sealed record CommentList(IReadOnlyList<CommentItem> Items);

/// <summary>What differs in one record.</summary>
/// <param name="Table">The list it stands in, such as "derivatives".</param>
/// <param name="Key">What names the record.</param>
/// <param name="Type">Added, changed or removed.</param>
/// <param name="Fields">Names of the fields that differ. Empty where the record is added or removed.</param>
/// <param name="Before">The record as it is. Missing: it is added.</param>
/// <param name="After">The record as it is to be. Missing: it is removed.</param>
public sealed record ChangeItem(
    string Table, string Key, ChangeType Type, IReadOnlyList<string> Fields, JsonElement? Before, JsonElement? After);

/// <summary>What the rules say of the table a proposal makes.</summary>
/// <param name="Errors">How many errors there are; with none it can be submitted and released.</param>
/// <param name="Warnings">How many warnings there are.</param>
/// <param name="NewWarnings">How many of the warnings the proposal brings; the version it starts from has the others.</param>
/// <param name="Findings">Errors before warnings, those the proposal brings before those it found; the first 1000.</param>
public sealed record ValidationItem(int Errors, int Warnings, int NewWarnings, IReadOnlyList<FindingItem> Findings);

/// <summary>Something wrong or noteworthy about a record of the proposed table.</summary>
/// <param name="Severity">An error stands in the way of the release; a warning asks for a look.</param>
/// <param name="Table">The list the record stands in.</param>
/// <param name="Key">What names the record.</param>
/// <param name="Field">The field.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What is allowed, or what to look at.</param>
/// <param name="IsNew">Whether the version it starts from doesn't have it already.</param>
public sealed record FindingItem(
    FindingSeverity Severity, string Table, string Key, string Field, string Value, string Allowed, bool IsNew);

/// <summary>Which proposals to list.</summary>
public sealed record ProposalQuery : PageQuery
{
    /// <summary>Only those that have come this far. Missing: all, but those withdrawn before they changed anything.</summary>
    public ProposalState? State { get; init; }
}

/// <summary>Which differences to list.</summary>
public sealed record ChangeQuery : PageQuery
{
    /// <summary>Only those of one list, such as "derivatives". Missing: all.</summary>
    [StringLength(40)]
    public string? Table { get; init; }
}

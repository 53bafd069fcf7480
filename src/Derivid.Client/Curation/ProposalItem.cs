namespace Derivid.Client.Curation;

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
/// <param name="ReviewNote">What they said. Missing: nothing.</param>
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

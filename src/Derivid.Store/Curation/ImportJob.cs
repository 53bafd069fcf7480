using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>A file on its way into a proposal.</summary>
public sealed record ImportJob
{
    /// <summary>Names it in addresses.</summary>
    public required string Id { get; init; }

    /// <summary>The proposal it goes into.</summary>
    public required string ProposalId { get; init; }

    /// <summary>Revision of the proposal it was sent for; it fails if the proposal has another when it ends.</summary>
    public required int Revision { get; init; }

    /// <summary>The kind of record in it.</summary>
    public required RecordKind Kind { get; init; }

    /// <summary>Whether records that it doesn't hold are to be left out of the table.</summary>
    public required bool IsWhole { get; init; }

    /// <summary>Whether it is only read and checked.</summary>
    public required bool IsDryRun { get; init; }

    /// <summary>How far it has come.</summary>
    public required ImportState State { get; init; }

    /// <summary>Who sent it.</summary>
    public required string StartedBy { get; init; }

    /// <summary>When it was sent. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>When the process that reads it last gave a sign of life. Units: UTC.</summary>
    public required DateTime SeenAtUtc { get; init; }

    /// <summary>When it ended. Units: UTC. Missing: null, it hasn't.</summary>
    public DateTime? EndedAtUtc { get; init; }

    /// <summary>How much is done. Bounds: 0 to 100.</summary>
    public int Percent { get; init; }

    /// <summary>Rows read so far.</summary>
    public int Rows { get; init; }

    /// <summary>Faults found so far.</summary>
    public int Faults { get; init; }

    /// <summary>Rows that add a record.</summary>
    public int Added { get; init; }

    /// <summary>Rows that change a record.</summary>
    public int Changed { get; init; }

    /// <summary>Rows that say what the proposed table says already.</summary>
    public int Unchanged { get; init; }

    /// <summary>Records left out, because a whole list was sent without them.</summary>
    public int Removed { get; init; }

    /// <summary>Whether it is to be called off.</summary>
    public bool IsCancelRequested { get; init; }

    /// <summary>Why it ended as it did, in a sentence. Missing: null.</summary>
    public string? Message { get; init; }
}

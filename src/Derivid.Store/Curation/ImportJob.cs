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

    /// <summary>The list of the table that its records stand in. Missing: empty, it holds several lists.</summary>
    public required string TableName { get; init; }

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

    /// <summary>Faults found.</summary>
    public int Faults { get; init; }

    /// <summary>Rows with at least one fault.</summary>
    public int RowsAtFault { get; init; }

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

/// <summary>One thing wrong with a file sent.</summary>
/// <param name="JobId">The import.</param>
/// <param name="Number">Counts the faults of the import, from 1.</param>
/// <param name="TableName">The list it is about. Missing: null, that of the import; empty, what was sent as a whole.</param>
/// <param name="Line">
/// Line in the file, the header being line 1; in JSON the number of the item, from 1; 0, what was sent as a whole, or a record that it
/// leaves as it is.
/// </param>
/// <param name="Column">The column or property. Missing: empty, the row as a whole.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What is allowed there.</param>
public sealed record ImportFault(string JobId, int Number, string? TableName, int Line, string Column, string Value, string Allowed);

/// <summary>How far an import has come, as its reader counts it while others look.</summary>
/// <remarks>Thread safety: one writer, any number of readers; each figure is whole, all of them together need not agree.</remarks>
public sealed class ImportProgress
{
    /// <summary>How much is done. Bounds: 0 to 100.</summary>
    public int Percent { get; internal set; }

    /// <summary>Rows read so far.</summary>
    public int Rows { get; internal set; }

    /// <summary>Faults found.</summary>
    public int Faults { get; internal set; }

    /// <summary>Rows with at least one fault.</summary>
    public int RowsAtFault { get; internal set; }

    /// <summary>Rows that add a record.</summary>
    public int Added { get; internal set; }

    /// <summary>Rows that change a record.</summary>
    public int Changed { get; internal set; }

    /// <summary>Rows that say what the proposed table says already.</summary>
    public int Unchanged { get; internal set; }

    /// <summary>Records left out, because a whole list was sent without them.</summary>
    public int Removed { get; internal set; }
}

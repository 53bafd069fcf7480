using System.ComponentModel.DataAnnotations;
using System.Text.Json.Serialization;
using Derivid.Core.Curation;

namespace Derivid.Contracts;

/// <summary>A file on its way into a proposal.</summary>
/// <param name="Id">Names it in addresses.</param>
/// <param name="Proposal">The proposal it goes into.</param>
/// <param name="Table">The list its rows belong to. Missing: it holds several lists.</param>
/// <param name="Whole">Whether records that it doesn't hold are to be left out.</param>
/// <param name="DryRun">Whether it is only read and checked.</param>
/// <param name="State">How far it has come.</param>
/// <param name="Percent">How much is done, 0 to 100.</param>
/// <param name="Rows">Rows read.</param>
/// <param name="Faults">Faults found; each is listed at /faults. With more than 20,000 the reading stops, and the message says so.</param>
/// <param name="RowsAtFault">Rows with at least one fault, of those read.</param>
/// <param name="Added">Rows that add a record.</param>
/// <param name="Changed">Rows that change a record.</param>
/// <param name="Unchanged">Rows that say what the proposed table says already.</param>
/// <param name="Removed">Records left out.</param>
/// <param name="StartedAt">When it was sent (RFC 3339, UTC).</param>
/// <param name="EndedAt">When it ended (RFC 3339, UTC). Missing: it hasn't.</param>
/// <param name="Message">What came of it. Missing: it hasn't ended.</param>
public sealed record ImportItem(
    string Id,
    string Proposal,
    string? Table,
    bool Whole,
    bool DryRun,
    ImportState State,
    int Percent,
    int Rows,
    int Faults,
    int RowsAtFault,
    int Added,
    int Changed,
    int Unchanged,
    int Removed,
    DateTime StartedAt,
    DateTime? EndedAt,
    string? Message)
{
    /// <summary>Whether it has ended, one way or another.</summary>
    [JsonIgnore]
    public bool HasEnded => State is not (ImportState.Queued or ImportState.Running);
}

/// <summary>One thing wrong with a file.</summary>
/// <param name="Table">The list it is about. Missing: what was sent as a whole.</param>
/// <param name="Line">
/// Line in the file, the header being line 1; in JSON the number of the item, from 1. 0: what was sent as a whole, or a record that it
/// leaves as it is.
/// </param>
/// <param name="Column">The column or property. Empty: the row as a whole.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What is allowed there.</param>
public sealed record ImportFaultItem(string? Table, int Line, string Column, string Value, string Allowed);

/// <summary>What a file sent is, and what is to be done with it.</summary>
public sealed record ImportQuery
{
    /// <summary>The largest file taken, of at most 100,000 rows. Units: MB, of 1024 × 1024 bytes.</summary>
    public const int LargestMegabytes = 64;

    /// <summary>
    /// The list its rows belong to, such as "derivatives". Missing: it holds several lists, as exports of whole versions do: a ZIP
    /// archive with a CSV file a list, or a JSON object with an array a list.
    /// </summary>
    [StringLength(40)]
    public string? Table { get; init; }

    /// <summary>Whether records of its lists that the file doesn't hold are to be left out. Missing: false, they stay.</summary>
    public bool? Whole { get; init; }

    /// <summary>Whether the file is only read and checked. Missing: true; send false to have it taken.</summary>
    public bool? DryRun { get; init; }
}

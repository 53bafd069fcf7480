using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>What a proposal makes of one record.</summary>
/// <param name="ProposalId">The proposal.</param>
/// <param name="TableName">The list the record stands in.</param>
/// <param name="RecordKey">What names the record; see <see cref="RecordKind.KeyOf"/>.</param>
/// <param name="RecordJson">The record as it is to be; see <see cref="RecordText"/>. "null": it is to be left out.</param>
/// <param name="ChangedBy">Who wrote this last.</param>
/// <param name="ChangedAtUtc">When. Units: UTC.</param>
public sealed record ProposedRecord(
    string ProposalId, string TableName, string RecordKey, string RecordJson, string ChangedBy, DateTime ChangedAtUtc);

/// <summary>What a proposal comes to: a version of the table and the proposal's records put together.</summary>
public sealed class ProposedTable
{
    /// <summary>Puts them together.</summary>
    /// <param name="before">The version.</param>
    /// <param name="records">The records. Shape: at most one a record of the table.</param>
    /// <param name="version">Number of the table made.</param>
    public ProposedTable(ReferenceTable before, IReadOnlyList<ProposedRecord> records, int version)
    {
        ArgumentNullException.ThrowIfNull(before);
        (Before, Records) = (before, records);
        After = TableDifferences.Apply(
            before,
            records.Select(record => (Kind: before.KindOf(record.TableName)!, Row: record)).Select(record =>
                new RecordChange(record.Kind, record.Row.RecordKey, null, RecordText.Read(record.Kind, record.Row.RecordJson))),
            version);
        Changes = TableDifferences.Between(before, After);
    }

    /// <summary>The version.</summary>
    public ReferenceTable Before { get; }

    /// <summary>The proposal's records.</summary>
    public IReadOnlyList<ProposedRecord> Records { get; }

    /// <summary>The table they make.</summary>
    public ReferenceTable After { get; }

    /// <summary>What differs. Shape: by kind, then key.</summary>
    public IReadOnlyList<RecordChange> Changes { get; }
}

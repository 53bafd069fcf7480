using Derivid.Core.Curation;

namespace Derivid.Store.Curation;

/// <summary>What a proposal makes of one record.</summary>
/// <param name="ProposalId">The proposal.</param>
/// <param name="Kind">The kind of record.</param>
/// <param name="RecordKey">What names the record; see <see cref="RecordTypes"/>.</param>
/// <param name="RecordJson">The record as it is to be; see <see cref="RecordText"/>. "null": it is to be left out.</param>
/// <param name="ChangedBy">Who wrote this last.</param>
/// <param name="ChangedAtUtc">When. Units: UTC.</param>
public sealed record ProposedRecord(
    string ProposalId, RecordKind Kind, string RecordKey, string RecordJson, string ChangedBy, DateTime ChangedAtUtc)
{
    /// <summary>The record as it is to be. Missing: null, it is to be left out.</summary>
    public object? Record => RecordText.Read(Kind, RecordJson);
}

using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Writes changes of a proposal, over those of the same record.</summary>
internal static class ProposedRecordUpserts
{
    // Six values a row, well below either engine's limit of parameters.
    private const int RowsPerStatement = 200;

    /// <summary>Writes them, a statement at a time, so that any number can be streamed.</summary>
    /// <param name="context">The context, in a transaction.</param>
    /// <param name="records">The changes. Shape: at most one a record.</param>
    /// <param name="cancellation">Gives up early.</param>
    public static async Task PutAsync(
        this DerividContext context, IEnumerable<ProposedRecord> records, CancellationToken cancellation)
    {
        foreach (var rows in records.Chunk(RowsPerStatement))
        {
            var places = Enumerable.Range(0, rows.Length).Select(row =>
                $"({string.Join(", ", Enumerable.Range(row * 6, 6).Select(place => $"{{{place}}}"))})");
            object[] values =
            [
                .. rows.SelectMany<ProposedRecord, object>(row =>
                    [row.ProposalId, row.Kind.ToString(), row.RecordKey, row.RecordJson, row.ChangedBy, row.ChangedAtUtc]),
            ];
            var sql =
                "INSERT INTO proposed_records (proposal_id, kind, record_key, record_json, changed_by, changed_at_utc) "
                + $"VALUES {string.Join(", ", places)} ON CONFLICT (proposal_id, kind, record_key) DO UPDATE SET "
                + "record_json = excluded.record_json, changed_by = excluded.changed_by, changed_at_utc = excluded.changed_at_utc";
            await context.Database.ExecuteSqlRawAsync(sql, values, cancellation);
        }
    }
}

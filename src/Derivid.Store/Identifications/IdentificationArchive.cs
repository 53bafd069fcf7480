using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Identifications;

/// <summary>Keeps identifications and finds them again.</summary>
/// <param name="database">Where they are kept.</param>
public sealed class IdentificationArchive(DerividDatabase database)
{
    // Rows of six values in one statement, well below either engine's limit of parameters.
    private const int RowsPerStatement = 100;

    /// <summary>Stores one; one already there under the same id stays as it is.</summary>
    /// <param name="identification">The identification.</param>
    /// <param name="cancellation">Gives up early, storing nothing.</param>
    /// <returns>Whether it was new.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was stored half-way.</exception>
    public async Task<bool> AddAsync(StoredIdentification identification, CancellationToken cancellation) =>
        (await AddAsync([identification], cancellation)).Count == 1;

    /// <summary>Stores many, all or none; those already there under the same id stay as they are.</summary>
    /// <param name="identifications">The identifications. Shape: any order; ids may repeat.</param>
    /// <param name="cancellation">Gives up early, storing nothing.</param>
    /// <returns>The ids that were new.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; none was stored.</exception>
    public async Task<IReadOnlySet<string>> AddAsync(
        IReadOnlyCollection<StoredIdentification> identifications, CancellationToken cancellation)
    {
        // In one order everywhere, or two batches with ids in common could wait for each other for ever.
        var statements = identifications.OrderBy(row => row.Id, StringComparer.Ordinal).Chunk(RowsPerStatement).ToList();
        return await database.RunAsync(
            async (context, token) =>
            {
                var added = new HashSet<string>(StringComparer.Ordinal);
                await using var transaction = statements.Count > 1
                    ? await context.Database.BeginTransactionAsync(token)
                    : null;
                foreach (var rows in statements)
                {
                    added.UnionWith(await InsertAsync(context, rows, token));
                }

                if (transaction is not null)
                {
                    await transaction.CommitAsync(token);
                }

                return added;
            },
            cancellation);
    }

    /// <summary>Finds one.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The identification. Missing: null, no such id.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<StoredIdentification?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Identifications.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token),
        cancellation);

    // EF Core has no insert that passes over rows already there; both engines have, in the same words.
    private static Task<List<string>> InsertAsync(
        DerividContext context, StoredIdentification[] rows, CancellationToken cancellation)
    {
        var places = Enumerable.Range(0, rows.Length).Select(row =>
            $"({string.Join(", ", Enumerable.Range(row * 6, 6).Select(place => $"{{{place}}}"))})");
        object[] values =
        [
            .. rows.SelectMany<StoredIdentification, object>(row =>
                [row.Id, row.TableVersion, row.ModelVersion, row.ObservationJson, row.ResultJson, row.CreatedAtUtc]),
        ];
        var sql =
            "INSERT INTO identifications (id, table_version, model_version, observation_json, result_json, created_at_utc) "
            + $"VALUES {string.Join(", ", places)} ON CONFLICT (id) DO NOTHING RETURNING id";
        return context.Database.SqlQueryRaw<string>(sql, values).ToListAsync(cancellation);
    }
}

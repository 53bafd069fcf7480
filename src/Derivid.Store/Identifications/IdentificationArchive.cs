using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Identifications;

/// <summary>Keeps identifications and finds them again.</summary>
/// <param name="database">Where they are kept.</param>
public sealed class IdentificationArchive(DerividDatabase database)
{
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
        var rows = identifications.DistinctBy(row => row.Id).OrderBy(row => row.Id, StringComparer.Ordinal).ToList();
        return await database.RunAsync(
            async (context, token) =>
            {
                await using var transaction = rows.Count > 1 ? await context.Database.BeginTransactionAsync(token) : null;
                var added = await context.InsertAsync(rows, StoredRow.Stays, token);
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
}

/// <summary>An identification as it was answered, with all that is needed to replay it.</summary>
/// <param name="Id">Hash of observation, table version and model version; equal inputs have one id.</param>
/// <param name="TableVersion">The table version it was made on.</param>
/// <param name="ModelVersion">The scoring model it was made with.</param>
/// <param name="ObservationJson">The normalised observation, byte for byte.</param>
/// <param name="ResultJson">The answer, byte for byte.</param>
/// <param name="CreatedAtUtc">When it was first stored. Units: UTC.</param>
public sealed record StoredIdentification(
    string Id,
    int TableVersion,
    string ModelVersion,
    string ObservationJson,
    string ResultJson,
    DateTime CreatedAtUtc);

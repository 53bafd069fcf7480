using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Databases;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tables;

/// <summary>Finds versions of the reference table.</summary>
/// <param name="database">Where they are kept.</param>
public sealed class ReferenceTables(DerividDatabase database)
{
    /// <summary>Lists the released versions.</summary>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: newest first; empty before the first start.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<TableVersion>> VersionsAsync(CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.TableVersions.AsNoTracking()
            .OrderByDescending(version => version.Number).ToListAsync(token),
        cancellation);

    /// <summary>Loads one whole version and checks it against the hash it was released with.</summary>
    /// <param name="version">The version's number.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The table, ordered in order (<see cref="ReferenceTable.Ordered"/>). Missing: null, no such version.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    /// <exception cref="InvalidOperationException">Rows were changed behind Derivid's back since the release.</exception>
    public Task<ReferenceTable?> LoadAsync(int version, CancellationToken cancellation) => database.RunAsync(
        async (context, token) =>
        {
            var released = await context.TableVersions.AsNoTracking()
                .FirstOrDefaultAsync(row => row.Number == version, token);
            if (released is null)
            {
                return null;
            }

            // No transaction is needed: a later release ends rows after this version, never within it.
            var table = await RowsAsync(context, version, token);
            return ReferenceTableHash.Of(table) == released.ContentHash
                ? table
                : throw new InvalidOperationException(
                    $"Version {version} of the reference table no longer matches its hash: its rows were changed after the release. Restore a backup.");
        },
        cancellation);

    /// <summary>The records of one kind that any version had.</summary>
    /// <typeparam name="T">What they are.</typeparam>
    /// <param name="kind">The kind.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: those of the newest version first.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<T>> EverAsync<T>(RecordKind<T> kind, CancellationToken cancellation)
        where T : class => database.RunAsync(
        async (context, token) => (await context.EverOf(kind).ToListAsync(token)).ConvertAll(row => (T)row),
        cancellation);

    internal static async Task<ReferenceTable> RowsAsync(
        DerividContext context, int version, CancellationToken cancellation)
    {
        var table = ReferenceTable.Empty(context.Layout, version);
        foreach (var kind in context.Layout.Kinds)
        {
            table = table.With(kind, await context.RowsOf(kind, version).ToListAsync(cancellation));
        }

        return table.Ordered();
    }
}

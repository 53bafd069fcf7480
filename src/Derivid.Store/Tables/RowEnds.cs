using Derivid.Core.Colours;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Melting;
using Derivid.Core.SpotTests;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tables;

/// <summary>Marks rows of the table as ended: the one thing that may be written to a released row.</summary>
internal static class RowEnds
{
    /// <summary>Ends the rows that changes replace or leave out.</summary>
    /// <param name="context">The context, with a transaction open.</param>
    /// <param name="changes">The changes.</param>
    /// <param name="version">The first version without the rows.</param>
    /// <param name="cancellation">Gives up early.</param>
    public static async Task EndRowsAsync(
        this DerividContext context, IReadOnlyList<RecordChange> changes, int version, CancellationToken cancellation)
    {
        foreach (var group in changes.Where(change => change.Before is not null).GroupBy(change => change.Kind))
        {
            var keys = group.Select(change => change.Key).ToHashSet(StringComparer.Ordinal);
            await (group.Key switch
            {
                RecordKind.Source => EndAsync<Source>(context, group.Key, keys, version, cancellation),
                RecordKind.Parent => EndAsync<Parent>(context, group.Key, keys, version, cancellation),
                RecordKind.ParentConstant => EndAsync<ParentConstant>(context, group.Key, keys, version, cancellation),
                RecordKind.DerivativeKind => EndAsync<DerivativeKind>(context, group.Key, keys, version, cancellation),
                RecordKind.Colour => EndAsync<Colour>(context, group.Key, keys, version, cancellation),
                RecordKind.Derivative => EndAsync<Derivative>(context, group.Key, keys, version, cancellation),
                RecordKind.SpotTestQuestion => EndAsync<SpotTestQuestion>(context, group.Key, keys, version, cancellation),
                RecordKind.SpotTest => EndAsync<SpotTest>(context, group.Key, keys, version, cancellation),
                RecordKind.SpotTestResponse => EndAsync<SpotTestResponse>(context, group.Key, keys, version, cancellation),
                RecordKind.ColourExpectation => EndAsync<ColourExpectation>(context, group.Key, keys, version, cancellation),
                RecordKind.MeltingPointStandard => EndAsync<MeltingPointStandard>(context, group.Key, keys, version, cancellation),
            });
        }
    }

    private static async Task EndAsync<T>(
        DerividContext context, RecordKind kind, HashSet<string> keys, int version, CancellationToken cancellation)
        where T : class
    {
        var type = RecordTypes.Of(kind);
        var standing = await context.Set<T>()
            .Where(row => EF.Property<int?>(row, VersionInterval.To) == null).ToListAsync(cancellation);
        foreach (var row in standing.Where(row => keys.Contains(type.KeyOf(row))))
        {
            context.Entry(row).Property(VersionInterval.To).CurrentValue = version;
        }

        await context.SaveChangesAsync(cancellation);
        context.ChangeTracker.Clear();
    }
}

using System.Reflection;
using Derivid.Core.Curation;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tables;

/// <summary>Rows of the table: each stands from its first version inclusive to its last exclusive.</summary>
/// <remarks>A row without an end stands in the current version and in those to come until one drops it.</remarks>
internal static class VersionedRows
{
    /// <summary>Property of the first version that has the row.</summary>
    public const string From = "FromVersion";

    /// <summary>Property of the first later version that doesn't. Missing: null, none so far.</summary>
    public const string To = "ToVersion";

    private static readonly MethodInfo Set = typeof(DbContext).GetMethod(nameof(DbContext.Set), 1, Type.EmptyTypes)!;

    /// <summary>The rows of one kind that stand in a version.</summary>
    /// <param name="context">The context.</param>
    /// <param name="kind">The kind of record.</param>
    /// <param name="version">The version.</param>
    public static IQueryable<object> RowsOf(this DerividContext context, RecordKind kind, int version) =>
        All(context, kind).AsNoTracking().Where(row =>
            EF.Property<int>(row, From) <= version
            && (EF.Property<int?>(row, To) == null || EF.Property<int?>(row, To) > version));

    /// <summary>The rows of one kind that stood in any version.</summary>
    /// <param name="context">The context.</param>
    /// <param name="kind">The kind of record.</param>
    /// <returns>Shape: newest first.</returns>
    public static IQueryable<object> EverOf(this DerividContext context, RecordKind kind) =>
        All(context, kind).AsNoTracking().OrderByDescending(row => EF.Property<int>(row, From));

    /// <summary>Ends the rows that changes replace or leave out: the one thing that may be written to a released row.</summary>
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
            var standing = await All(context, group.Key)
                .Where(row => EF.Property<int?>(row, To) == null).ToListAsync(cancellation);
            foreach (var row in standing.Where(row => keys.Contains(group.Key.KeyOf(row))))
            {
                context.Entry(row).Property(To).CurrentValue = version;
            }

            await context.SaveChangesAsync(cancellation);
            context.ChangeTracker.Clear();
        }
    }

    private static IQueryable<object> All(DerividContext context, RecordKind kind) =>
        (IQueryable<object>)Set.MakeGenericMethod(kind.RecordType).Invoke(context, null)!;
}

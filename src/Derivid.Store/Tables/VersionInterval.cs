using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Tables;

/// <summary>In which versions of the table a row stands: from the first inclusive to the last exclusive.</summary>
/// <remarks>A row without an end stands in the current version and in those to come until one drops it.</remarks>
internal static class VersionInterval
{
    /// <summary>Property of the first version that has the row.</summary>
    public const string From = "FromVersion";

    /// <summary>Property of the first later version that doesn't. Missing: null, none so far.</summary>
    public const string To = "ToVersion";

    /// <summary>The rows of one type that stand in a version.</summary>
    /// <param name="context">The context.</param>
    /// <param name="version">The version.</param>
    public static IQueryable<T> RowsOf<T>(this DerividContext context, int version)
        where T : class =>
        context.Set<T>().AsNoTracking().Where(row =>
            EF.Property<int>(row, From) <= version
            && (EF.Property<int?>(row, To) == null || EF.Property<int?>(row, To) > version));
}

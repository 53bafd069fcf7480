using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Databases;

/// <summary>Pages of rows in the order of their ids, which is the order in which they came (UUID version 7).</summary>
internal static class IdOrder
{
    private const string Id = nameof(Id);

    /// <summary>The oldest first.</summary>
    /// <typeparam name="T">A stored row with an id.</typeparam>
    /// <param name="rows">The rows.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the oldest.</param>
    /// <param name="most">How many at most.</param>
    public static IQueryable<T> OldestFirst<T>(this IQueryable<T> rows, string? beyond, int most)
        where T : class =>
        rows.Where(row => beyond == null || string.Compare(EF.Property<string>(row, Id), beyond) > 0)
            .OrderBy(row => EF.Property<string>(row, Id)).Take(most);

    /// <summary>The newest first.</summary>
    /// <inheritdoc cref="OldestFirst"/>
    public static IQueryable<T> NewestFirst<T>(this IQueryable<T> rows, string? beyond, int most)
        where T : class =>
        rows.Where(row => beyond == null || string.Compare(EF.Property<string>(row, Id), beyond) < 0)
            .OrderByDescending(row => EF.Property<string>(row, Id)).Take(most);
}

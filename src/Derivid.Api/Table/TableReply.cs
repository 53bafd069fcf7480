using System.Globalization;
using Derivid.Api.Http;
using Derivid.Contracts;

namespace Derivid.Api.Table;

/// <summary>Answers questions about the table out of memory.</summary>
public static class TableReply
{
    /// <summary>Answers with one page of a list.</summary>
    /// <typeparam name="TQuery">What may be asked.</typeparam>
    /// <typeparam name="TItem">What a row is.</typeparam>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    /// <param name="select">All rows that fit the query, in a fixed order; notes faults of the query's values.</param>
    public static async Task<IResult> ListAsync<TQuery, TItem>(
        HttpContext context, TableSnapshots tables, Func<TQuery, ServedTable, FieldErrors, IEnumerable<TItem>> select)
        where TQuery : TableQuery
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(tables);
        if (!RequestQuery.Read<TQuery>(context.Request).Succeeded(out var query, out var problem)
            || !PagerOf(context, query).Succeeded(out var pager, out problem))
        {
            return problem;
        }

        var place = pager.Beyond is { } beyond ? TablePlace.Parse(beyond) : null;
        if (place is not null && query.TableVersion is { } wanted && wanted != place.Version)
        {
            return FieldErrors.One("?tableVersion", string.Create(
                CultureInfo.InvariantCulture,
                $"{wanted} is not the version the cursor began with, {place.Version}; leave it out."));
        }

        if (!(await tables.FindAsync(place?.Version ?? query.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var rows = select(query, table, errors).ToList();
        if (errors.ToProblem() is { } wrong)
        {
            return wrong with { TableVersion = table.Table.Version };
        }

        return Reply.UnlessKnown(
            context, table.Table.Version, () => PageOf(table, rows, place ?? new TablePlace(table.Table.Version, 0), pager));
    }

    /// <summary>Answers with one row.</summary>
    /// <typeparam name="TItem">What a row is.</typeparam>
    /// <param name="context">The request.</param>
    /// <param name="tables">The tables.</param>
    /// <param name="find">The row, or the sentence that says there is none.</param>
    public static async Task<IResult> OneAsync<TItem>(
        HttpContext context, TableSnapshots tables, Func<ServedTable, (TItem? Row, string Missing)> find)
        where TItem : class
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(tables);
        ArgumentNullException.ThrowIfNull(find);
        if (!RequestQuery.Read<VersionQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await tables.FindAsync(query.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var (row, missing) = find(table);
        if (row is null)
        {
            return new Problem(ProblemTypes.NotFound, missing) { TableVersion = table.Table.Version };
        }

        return Reply.UnlessKnown(context, table.Table.Version, () => Reply.Exactly(row));
    }

    private static Outcome<Pager> PagerOf(HttpContext context, TableQuery query) => Pager.Of(
        context,
        query with { Cursor = null, Limit = null, TableVersion = null },
        query.Limit,
        query.Cursor,
        text => TablePlace.Parse(text) is not null);

    private static IResult PageOf<TItem>(ServedTable table, List<TItem> rows, TablePlace place, Pager pager)
    {
        var items = rows.Skip(place.Offset).Take(pager.Limit).ToList();
        var given = Math.Min(rows.Count, place.Offset) + items.Count;
        var version = table.Table.Version;
        var next = given < rows.Count
            ? pager.NextAfter(new TablePlace(version, given).ToString(), left: "tableVersion")
            : null;
        return Reply.Exactly(new Page<TItem>(version, rows.Count, items, next));
    }

    // A table version never changes, so a version and the number of rows already given name a place for good.
    private sealed record TablePlace(int Version, int Offset)
    {
        /// <summary>Missing: null, it is no place of a table's list.</summary>
        public static TablePlace? Parse(string text)
        {
            var parts = text.Split('.');
            return parts.Length == 2
                && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var version)
                && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var offset)
                ? new TablePlace(version, offset)
                : null;
        }

        /// <inheritdoc/>
        public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Version}.{Offset}");
    }
}

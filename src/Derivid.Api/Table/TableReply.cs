using System.Globalization;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Contracts;
using Microsoft.AspNetCore.Http.Extensions;

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
        where TQuery : PageQuery
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(tables);
        if (!RequestQuery.Read<TQuery>(context.Request).Succeeded(out var query, out var problem)
            || !CursorOf(context.Request, query).Succeeded(out var cursor, out problem)
            || !(await tables.FindAsync(VersionOf(cursor, query), context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var rows = select(query, table, errors).ToList();
        if (errors.ToProblem() is { } wrong)
        {
            return wrong with { TableVersion = table.Table.Version };
        }

        return TableEtag.IsFresh(context, table.Table.Version)
            ? Results.StatusCode(StatusCodes.Status304NotModified)
            : PageOf(context, rows, query.Limit ?? PageQuery.DefaultLimit, cursor with { TableVersion = table.Table.Version });
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

        return TableEtag.IsFresh(context, table.Table.Version)
            ? Results.StatusCode(StatusCodes.Status304NotModified)
            : Json(row);
    }

    /// <summary>Answers with JSON.</summary>
    /// <param name="value">A wire type.</param>
    public static IResult Json(object value)
    {
        ArgumentNullException.ThrowIfNull(value);
        return Results.Bytes(
            JsonSerializer.SerializeToUtf8Bytes(value, value.GetType(), WireJson.Context), "application/json");
    }

    private static Outcome<Cursor> CursorOf(HttpRequest request, PageQuery query)
    {
        var question = Cursor.QuestionOf(request.Path, query);
        if (query.Cursor is null)
        {
            return new Cursor(0, 0, question);
        }

        var errors = new FieldErrors();
        var cursor = Cursor.Parse(query.Cursor);
        if (cursor is null || cursor.Question != question)
        {
            errors.Add("?cursor", $"{Text.Quoted(query.Cursor)} does not belong to this list with these filters; "
                + "take the cursor out of the next link of its last page, or leave it out.");
        }
        else if (query.TableVersion is { } version && version != cursor.TableVersion)
        {
            errors.Add("?tableVersion", string.Create(
                CultureInfo.InvariantCulture,
                $"{version} is not the version the cursor began with, {cursor.TableVersion}; leave it out."));
        }

        return errors.ToProblem() is { } problem ? problem : cursor!;
    }

    private static int? VersionOf(Cursor cursor, PageQuery query) =>
        cursor.TableVersion > 0 ? cursor.TableVersion : query.TableVersion;

    private static IResult PageOf<TItem>(HttpContext context, List<TItem> rows, int limit, Cursor cursor)
    {
        var items = rows.Skip(cursor.Offset).Take(limit).ToList();
        var given = Math.Min(rows.Count, cursor.Offset) + items.Count;
        var next = given < rows.Count ? NextLink(context.Request, cursor with { Offset = given }) : null;
        if (next is not null)
        {
            context.Response.Headers.Link = $"<{next}>; rel=\"next\"";
        }

        return Json(new Page<TItem>(cursor.TableVersion, rows.Count, items, next));
    }

    private static string NextLink(HttpRequest request, Cursor cursor)
    {
        var query = new QueryBuilder(request.Query
            .Where(p => p.Key is not ("cursor" or "tableVersion"))
            .Select(p => KeyValuePair.Create(p.Key, p.Value.ToString())))
        {
            { "cursor", cursor.ToString() },
        };
        return request.PathBase + request.Path + query.ToString();
    }
}

using Derivid.Api.Table;
using Derivid.Contracts;
using Microsoft.AspNetCore.Http.Extensions;

namespace Derivid.Api.Http;

/// <summary>Answers with pages of stored rows.</summary>
public static class RowReply
{
    /// <summary>Answers with one page of a list.</summary>
    /// <typeparam name="TQuery">What may be asked.</typeparam>
    /// <typeparam name="TRow">A row as stored.</typeparam>
    /// <typeparam name="TItem">A row on the wire; the wire context must know its page.</typeparam>
    /// <param name="context">The request.</param>
    /// <param name="read">Reads rows: the query, the sort key to go on after (null from the start), how many at most.</param>
    /// <param name="sortKey">A row's sort key: unique, and never changing.</param>
    /// <param name="isSortKey">Whether a text, which a sender may have made up, has the form of a sort key.</param>
    /// <param name="translate">Puts a row on the wire.</param>
    public static async Task<IResult> ListAsync<TQuery, TRow, TItem>(
        HttpContext context,
        Func<TQuery, string?, int, Task<List<TRow>>> read,
        Func<TRow, string> sortKey,
        Func<string, bool> isSortKey,
        Func<TRow, TItem> translate)
        where TQuery : RowQuery
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(read);
        ArgumentNullException.ThrowIfNull(isSortKey);
        if (!RequestQuery.Read<TQuery>(context.Request).Succeeded(out var query, out var problem)
            || !CursorOf(context.Request, query, isSortKey).Succeeded(out var cursor, out problem))
        {
            return problem;
        }

        var limit = query.Limit ?? RowQuery.DefaultLimit;
        var beyond = cursor.Beyond.Length > 0 ? cursor.Beyond : null;
        var rows = await read(query, beyond, limit + 1);
        var given = rows.Take(limit).ToList();
        var next = rows.Count > limit
            ? NextLink(context.Request, cursor with { Beyond = sortKey(given[^1]) })
            : null;
        if (next is not null)
        {
            context.Response.Headers.Link = $"<{next}>; rel=\"next\"";
        }

        context.Response.Headers.CacheControl = "no-store";
        return TableReply.Json(new RowPage<TItem>([.. given.Select(translate)], next));
    }

    private static Outcome<RowCursor> CursorOf(HttpRequest request, RowQuery query, Func<string, bool> isSortKey)
    {
        var question = RowCursor.QuestionOf(request.Path, query);
        if (query.Cursor is null)
        {
            return new RowCursor(question, "");
        }

        if (RowCursor.Parse(query.Cursor) is { } cursor && cursor.Question == question && isSortKey(cursor.Beyond))
        {
            return cursor;
        }

        var errors = new FieldErrors();
        errors.Add("?cursor", $"{Text.Quoted(query.Cursor)} does not belong to this list with these filters; "
            + "take the cursor out of the next link of its last page, or leave it out.");
        return errors.ToProblem()!;
    }

    private static string NextLink(HttpRequest request, RowCursor cursor)
    {
        var query = new QueryBuilder(request.Query
            .Where(p => p.Key != "cursor")
            .Select(p => KeyValuePair.Create(p.Key, p.Value.ToString())))
        {
            { "cursor", cursor.ToString() },
        };
        return request.PathBase + request.Path + query.ToString();
    }
}

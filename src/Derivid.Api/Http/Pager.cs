using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Derivid.Contracts;
using Microsoft.AspNetCore.Http.Extensions;

namespace Derivid.Api.Http;

/// <summary>Where in a list a page begins, how much is on it, and the link to the next.</summary>
/// <remarks>
/// A cursor is opaque to those who hold it: a fingerprint of list and filters, so that it is not used on another list, and
/// the place to go on beyond.
/// </remarks>
public sealed class Pager
{
    /// <summary>Rows on one page when nothing is said.</summary>
    public const int DefaultLimit = 100;

    private const int FingerprintLength = 12;

    private readonly HttpContext _context;
    private readonly string _fingerprint;

    private Pager(HttpContext context, string fingerprint, string? beyond, int limit)
    {
        (_context, _fingerprint) = (context, fingerprint);
        (Beyond, Limit) = (beyond, limit);
    }

    /// <summary>The place to go on beyond, as an earlier page gave it. Missing: null, from the start.</summary>
    public string? Beyond { get; }

    /// <summary>Most rows on the page.</summary>
    public int Limit { get; }

    /// <summary>Reads which page is asked for.</summary>
    /// <param name="context">The request.</param>
    /// <param name="filters">The query without what pages it, a type of the service context's.</param>
    /// <param name="limit">Most rows asked for. Missing: null, the usual number.</param>
    /// <param name="cursor">The cursor sent. Missing: null, from the start.</param>
    /// <param name="isPlace">Whether a text, which a sender may have made up, has the form of a place of this list.</param>
    public static Outcome<Pager> Of(
        HttpContext context, object filters, int? limit, string? cursor, Func<string, bool> isPlace)
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(filters);
        ArgumentNullException.ThrowIfNull(isPlace);
        var fingerprint = FingerprintOf(context.Request.Path, filters);
        if (cursor is null)
        {
            return new Pager(context, fingerprint, null, limit ?? DefaultLimit);
        }

        return PlaceIn(cursor, fingerprint) is { } place && isPlace(place)
            ? new Pager(context, fingerprint, place, limit ?? DefaultLimit)
            : FieldErrors.One("?cursor", $"{Text.Quoted(cursor)} does not belong to this list with these filters; "
                + "take the cursor out of the next link of its last page, or leave it out.");
    }

    /// <summary>Answers with one page of a list of stored rows.</summary>
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
        where TQuery : PageQuery
    {
        ArgumentNullException.ThrowIfNull(context);
        ArgumentNullException.ThrowIfNull(read);
        if (!RequestQuery.Read<TQuery>(context.Request).Succeeded(out var query, out var problem)
            || !Of(context, query with { Cursor = null, Limit = null }, query.Limit, query.Cursor, isSortKey)
                .Succeeded(out var pager, out problem))
        {
            return problem;
        }

        var rows = await read(query, pager.Beyond, pager.Limit + 1);
        var given = rows.Take(pager.Limit).ToList();
        var next = rows.Count > pager.Limit ? pager.NextAfter(sortKey(given[^1])) : null;
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new RowPage<TItem>([.. given.Select(translate)], next));
    }

    /// <summary>Links to the next page, in a header too.</summary>
    /// <param name="place">The place it goes on beyond.</param>
    /// <param name="left">Query parameters the link leaves out, as the cursor holds them.</param>
    /// <returns>Its address.</returns>
    public string NextAfter(string place, params string[] left)
    {
        var request = _context.Request;
        var query = new QueryBuilder(request.Query
            .Where(p => p.Key != "cursor" && !left.Contains(p.Key))
            .Select(p => KeyValuePair.Create(p.Key, p.Value.ToString())))
        {
            { "cursor", Base64Url.EncodeToString(Encoding.UTF8.GetBytes(_fingerprint + place)) },
        };
        var next = request.PathBase + request.Path + query.ToString();
        _context.Response.Headers.Link = $"<{next}>; rel=\"next\"";
        return next;
    }

    private static string FingerprintOf(string path, object filters)
    {
        var bytes = JsonSerializer.SerializeToUtf8Bytes(filters, filters.GetType(), ServiceContext.Wire);
        return Convert.ToHexStringLower(SHA256.HashData([.. Encoding.UTF8.GetBytes(path), .. bytes]))[..FingerprintLength];
    }

    // Missing: null, the cursor isn't one of ours, or another list's.
    private static string? PlaceIn(string cursor, string fingerprint)
    {
        if (!Base64Url.IsValid(cursor))
        {
            return null;
        }

        var plain = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(cursor));
        return plain.Length > FingerprintLength && plain.StartsWith(fingerprint, StringComparison.Ordinal)
            ? plain[FingerprintLength..]
            : null;
    }
}

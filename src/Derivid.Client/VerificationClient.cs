using System.Net.Http.Headers;
using System.Net.Mime;
using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Values of the table typed from a source that somebody has before them. Needs an instructor's key.</summary>
public sealed class VerificationClient
{
    private readonly Wire _wire;

    internal VerificationClient(Wire wire) => _wire = wire;

    /// <summary>A page of lines to be typed, in the order of the book.</summary>
    /// <param name="query">Which.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Page<SheetLineItem>> GetSheetAsync(SheetQuery query, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(query);
        return _wire.GetAsync<Page<SheetLineItem>>(Address.Of("verification/sheet", query), cancellationToken);
    }

    /// <summary>The lines of all pages.</summary>
    /// <param name="query">Which; its limit is of one page.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<SheetLineItem> ListSheetAsync(SheetQuery query, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(query);
        return _wire.ListAsync<SheetLineItem>(Address.Of("verification/sheet", query), cancellationToken);
    }

    /// <summary>A page of lines as a CSV file to be filled in.</summary>
    /// <param name="query">Which.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<Stream> ExportSheetAsync(SheetQuery query, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(query);
        var request = Wire.Request(HttpMethod.Get, Address.Of("verification/sheet", query));
        request.Headers.Accept.Add(new MediaTypeWithQualityHeaderValue(MediaTypeNames.Text.Csv));
        var response = await _wire.SendAsync(request, cancellationToken);
        return await response.Content.ReadAsStreamAsync(cancellationToken);
    }

    /// <summary>Sends what is printed.</summary>
    /// <param name="query">From what, and into what.</param>
    /// <param name="request">What is printed, by the key of the line.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again keeps nothing twice. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ReadSheetItem> SendAsync(
        ReadingsQuery query, ReadingsRequest request, string? reason = null, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        SendAsync(query, (object)request, reason, idempotencyKey, cancellationToken);

    /// <summary>Sends a sheet filled in as a CSV file.</summary>
    /// <param name="query">From what, and into what.</param>
    /// <param name="csv">The file, in UTF-8.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again keeps nothing twice. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ReadSheetItem> SendAsync(
        ReadingsQuery query, ReadOnlyMemory<byte> csv, string? reason = null, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        SendAsync(
            query,
            new ReadOnlyMemoryContent(csv) { Headers = { ContentType = new MediaTypeHeaderValue(MediaTypeNames.Text.Csv) } },
            reason, idempotencyKey, cancellationToken);

    /// <summary>What became of a sheet you sent.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ReadSheetItem> GetReadSheetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ReadSheetItem>("verification/readings/" + Address.Segment(id), cancellationToken);

    /// <summary>What is most worth checking: where a value read is expected to make the most first answers right.</summary>
    /// <param name="query">Which lines. Missing: the first hundred, for anyone's unknowns.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<WorthChecking> GetWorthCheckingAsync(WorthQuery? query = null, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<WorthChecking>(Address.Of("verification/worth-checking", query ?? new WorthQuery()), cancellationToken);

    /// <summary>How far the table is read, source by source.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<VerificationProgress> GetProgressAsync(CancellationToken cancellationToken = default) =>
        _wire.GetAsync<VerificationProgress>("verification/progress", cancellationToken);

    private Task<ReadSheetItem> SendAsync(
        ReadingsQuery query, object body, string? reason, string? idempotencyKey, CancellationToken cancellationToken) =>
        _wire.SendAsync<ReadSheetItem>(
            Wire.Request(HttpMethod.Post, Address.Of("verification/readings", query), body, reason).WithIdempotencyKey(idempotencyKey),
            cancellationToken);
}

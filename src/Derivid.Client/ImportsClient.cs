using System.Net.Http.Headers;
using System.Net.Mime;
using System.Runtime.CompilerServices;
using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Loading whole files into proposals. Needs an instructor's key.</summary>
public sealed class ImportsClient
{
    private const int FaultsAPage = 500;

    private static readonly TimeSpan FirstLook = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan LongestPause = TimeSpan.FromSeconds(1);

    private readonly Wire _wire;

    internal ImportsClient(Wire wire) => _wire = wire;

    /// <summary>Sends a file; the answer names the import to follow.</summary>
    /// <param name="seen">The proposal it goes into, as last seen.</param>
    /// <param name="file">The file.</param>
    /// <param name="dryRun">Whether it is only read and checked; else all its rows are taken, or none.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again starts no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<ImportItem> StartAsync(
        ProposalItem seen,
        ImportFile file,
        bool dryRun = true,
        string? reason = null,
        string? idempotencyKey = null,
        CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        ArgumentNullException.ThrowIfNull(file);
        var content = new StreamContent(await RepeatableAsync(file.Content, cancellationToken));
        content.Headers.ContentType = new MediaTypeHeaderValue(
            file.Format == ExportFormat.Json ? MediaTypeNames.Application.Json
            : file.List is null ? MediaTypeNames.Application.Zip
            : MediaTypeNames.Text.Csv);
        var address = Address.Of(
            $"proposals/{Address.Segment(seen.Id)}/imports",
            new ImportQuery { Table = file.List, Whole = file.IsWhole, DryRun = dryRun });
        return await _wire.SendAsync<ImportItem>(
            Wire.Request(HttpMethod.Post, address, content, reason, seen.Revision).WithIdempotencyKey(idempotencyKey), cancellationToken);
    }

    /// <summary>How far an import has come.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ImportItem> GetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ImportItem>(Of(id), cancellationToken);

    /// <summary>Looks at an import again and again until it ends.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Stops looking; the import goes on.</param>
    /// <returns>Shape: what each look saw; the last has ended.</returns>
    public async IAsyncEnumerable<ImportItem> FollowAsync(
        string id, [EnumeratorCancellation] CancellationToken cancellationToken = default)
    {
        for (var pause = FirstLook; ; pause = pause * 2 < LongestPause ? pause * 2 : LongestPause)
        {
            var import = await GetAsync(id, cancellationToken);
            yield return import;
            if (import.HasEnded)
            {
                yield break;
            }

            await Task.Delay(pause, cancellationToken);
        }
    }

    /// <summary>Everything wrong with the file, in its order.</summary>
    /// <param name="id">The import's id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ImportFaultItem> ListFaultsAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ImportFaultItem>(Address.Of(Of(id) + "/faults", new PageQuery { Limit = FaultsAPage }), cancellationToken);

    /// <summary>Calls an import off; nothing of it is taken.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ImportItem> CancelAsync(string id, string? reason = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ImportItem>(Wire.Request(HttpMethod.Delete, Of(id), reason: reason), cancellationToken);

    private static string Of(string id) => "imports/" + Address.Segment(id);

    // A busy service is sent the same bytes again.
    private static async Task<Stream> RepeatableAsync(Stream content, CancellationToken cancellationToken)
    {
        if (content.CanSeek)
        {
            return content;
        }

        var copy = new MemoryStream();
        await using (content)
        {
            await content.CopyToAsync(copy, cancellationToken);
        }

        copy.Position = 0;
        return copy;
    }
}

/// <summary>A file to load into a proposal.</summary>
/// <param name="List">
/// The list its rows belong to, such as "derivatives". Missing: several lists, as exports of whole versions are: as CSV a ZIP archive with
/// a file a list, as JSON an object with an array a list.
/// </param>
/// <param name="Content">Its bytes, UTF-8; closed when they are sent.</param>
/// <param name="Format">How it is written, as exports are.</param>
/// <param name="IsWhole">Whether records of its lists that the file doesn't hold are to be left out.</param>
public sealed record ImportFile(string? List, Stream Content, ExportFormat Format, bool IsWhole = false);

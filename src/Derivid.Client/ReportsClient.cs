using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Reports on unknowns, from the first draft on.</summary>
public sealed class ReportsClient
{
    private readonly Wire _wire;

    internal ReportsClient(Wire wire) => _wire = wire;

    /// <summary>The reports handed in on the hand-out in force; a student gets their own, drafts too.</summary>
    /// <param name="course">The course.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ReportItem> ListAsync(string course, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ReportItem>(Of(course), cancellationToken);

    /// <summary>One report.</summary>
    /// <param name="course">The course.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<ReportItem>> GetAsync(
        string course, string id, CancellationToken cancellationToken = default) =>
        _wire.SendVersionedAsync<ReportItem>(Wire.Request(HttpMethod.Get, Of(course, id)), cancellationToken);

    /// <summary>Hands in a report, or begins a draft.</summary>
    /// <param name="course">The course.</param>
    /// <param name="report">The report.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ReportItem> CreateAsync(
        string course, ReportRequest report, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ReportItem>(
            Wire.Request(HttpMethod.Post, Of(course), report).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>Changes a draft, or hands it in.</summary>
    /// <param name="course">The course.</param>
    /// <param name="seen">The draft as last seen.</param>
    /// <param name="report">What it is to be.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<ReportItem>> ChangeAsync(
        string course, Versioned<ReportItem> seen, ReportRequest report, CancellationToken cancellationToken = default)
    {
        ArgumentNullException.ThrowIfNull(seen);
        return _wire.SendVersionedAsync<ReportItem>(
            Wire.Request(HttpMethod.Put, Of(course, seen.Value.Id), report).Meant(seen.Tag), cancellationToken);
    }

    /// <summary>Hands in a report already written as JSON, which is sent as it is, or begins a draft.</summary>
    /// <param name="course">The course.</param>
    /// <param name="report">UTF-8 JSON.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ReportItem> CreateAsync(
        string course, ReadOnlyMemory<byte> report, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ReportItem>(
            Wire.Request(HttpMethod.Post, Of(course), Wire.Json(report)).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>Changes a draft by one already written as JSON, which is sent as it is, or hands it in.</summary>
    /// <param name="course">The course.</param>
    /// <param name="id">The draft.</param>
    /// <param name="tag">The draft's tag as last seen.</param>
    /// <param name="report">UTF-8 JSON.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<Versioned<ReportItem>> ChangeAsync(
        string course, string id, string tag, ReadOnlyMemory<byte> report, CancellationToken cancellationToken = default) =>
        _wire.SendVersionedAsync<ReportItem>(
            Wire.Request(HttpMethod.Put, Of(course, id), Wire.Json(report)).Meant(tag), cancellationToken);

    /// <summary>What the engine makes of a report's observation, against the shelf list.</summary>
    /// <param name="course">The course.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<IdentificationReply> RankAsync(
        string course, string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<IdentificationReply>(Of(course, id) + "/ranking", cancellationToken);

    private static string Of(string course) => CoursesClient.Of(course) + "/reports";

    private static string Of(string course, string id) => $"{Of(course)}/{Address.Segment(id)}";
}

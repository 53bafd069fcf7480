using System.Collections.Frozen;
using System.Diagnostics;
using OpenTelemetry;

namespace Derivid.Api.Operating;

/// <summary>Takes out of every span what could name a person, a key, a course or a compound, before it is exported.</summary>
/// <remarks>
/// What stays is listed, so that a library that comes to note more brings nothing in: addresses and queries hold codes of unknowns and names,
/// agents and hosts are what a caller likes to write, statements and messages of errors are text. A span's events stay on it, and
/// <see cref="TelemetryHosting"/> has none exported. Thread safety: immutable.
/// </remarks>
public sealed class SpanTags : BaseProcessor<Activity>
{
    private static readonly FrozenSet<string> Kept = FrozenSet.Create(
        StringComparer.Ordinal,
        "http.request.method", "http.response.status_code", "http.route", "url.scheme", "network.protocol.version", "error.type",
        "db.system.name", "db.operation.name", "db.response.status_code", "db.client.connection.pool.name",
        "derivid.import.outcome", "derivid.import.dry_run");

    /// <inheritdoc/>
    public override void OnEnd(Activity data)
    {
        ArgumentNullException.ThrowIfNull(data);
        foreach (var (name, _) in data.TagObjects.Where(tag => !Kept.Contains(tag.Key)).ToList())
        {
            data.SetTag(name, null);
        }

        if (data.StatusDescription is not null)
        {
            data.SetStatus(data.Status);
        }
    }
}

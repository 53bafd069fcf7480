using Derivid.Client.Http;

namespace Derivid.Client.Auditing;

/// <summary>Reading the audit log, with an administrator's key.</summary>
public sealed class AuditClient
{
    private readonly Wire _wire;

    internal AuditClient(Wire wire) => _wire = wire;

    /// <summary>The entries that fit.</summary>
    /// <param name="filter">Which. Missing: all, newest first.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<AuditItem> ListAsync(
        AuditFilter? filter = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<AuditItem>(
            Address.Of(
                "audit",
                ("actor", filter?.Actor),
                ("action", filter?.Action),
                ("resource", filter?.Resource),
                ("order", filter?.OldestFirst == true ? "oldestFirst" : null)),
            cancellationToken);
}

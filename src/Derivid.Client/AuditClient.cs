using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Reading the audit log, with an administrator's key.</summary>
public sealed class AuditClient
{
    private readonly Wire _wire;

    internal AuditClient(Wire wire) => _wire = wire;

    /// <summary>The entries that fit.</summary>
    /// <param name="query">Which. Missing: all, newest first.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<AuditItem> ListAsync(AuditQuery? query = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<AuditItem>(Address.Of("audit", query ?? new()), cancellationToken);
}

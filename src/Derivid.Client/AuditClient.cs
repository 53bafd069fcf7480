using Derivid.Contracts;

namespace Derivid.Client;

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

/// <summary>Which entries of the audit log to read.</summary>
public sealed record AuditFilter
{
    /// <summary>By whom, exactly as the log names them. Missing: by anyone.</summary>
    public string? Actor { get; init; }

    /// <summary>What, exactly, such as "key.revoke". Missing: anything.</summary>
    public string? Action { get; init; }

    /// <summary>To what, exactly, such as "keys/" and a public part. Missing: to anything.</summary>
    public string? Resource { get; init; }

    /// <summary>Whether to begin with the oldest instead of the newest.</summary>
    public bool OldestFirst { get; init; }
}

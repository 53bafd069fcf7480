namespace Derivid.Client.Auditing;

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

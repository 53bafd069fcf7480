using Derivid.Core.Teaching;

namespace Derivid.Store.Access;

/// <summary>A key given out: everything but its secret, of which only the hash is kept.</summary>
/// <remarks>Never deleted, because the audit log names it; a revoked one stays revoked.</remarks>
public sealed class ApiKey
{
    /// <summary>Public part, which names the key in lists and in the audit log.</summary>
    public required string Id { get; init; }

    /// <summary>SHA-256 of the secret part.</summary>
    public required byte[] SecretHash { get; init; }

    /// <summary>Whom or what it was made for.</summary>
    public required string Name { get; init; }

    /// <summary>What its holder may do.</summary>
    public required Role Role { get; init; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>Who made it, as the audit log names them.</summary>
    public required string CreatedBy { get; init; }

    /// <summary>From when on it is refused. Units: UTC. Missing: null, it doesn't expire.</summary>
    public DateTime? ExpiresAtUtc { get; init; }

    /// <summary>Since when it is refused. Units: UTC. Missing: null, it wasn't revoked.</summary>
    public DateTime? RevokedAtUtc { get; set; }

    /// <summary>The day (UTC) it was last used; no finer, so that nobody's hours can be read off. Missing: null, never.</summary>
    public DateOnly? LastUsedOn { get; set; }

    /// <summary>Whether it opens anything.</summary>
    /// <param name="now">The instant to tell it for. Units: UTC.</param>
    public bool IsUsable(DateTime now) => RevokedAtUtc is null && !(ExpiresAtUtc <= now);
}

namespace Derivid.Client.Keys;

/// <summary>A key given out, without its secret.</summary>
/// <param name="Id">Public part, which names it here and in the audit log.</param>
/// <param name="Name">Whom or what it was made for.</param>
/// <param name="Role">What its holder may do.</param>
/// <param name="IsUsable">Whether it still opens anything.</param>
/// <param name="CreatedAt">When it was made (RFC 3339, UTC).</param>
/// <param name="CreatedBy">Who made it, as the audit log names them.</param>
/// <param name="ExpiresAt">From when on it is refused. Missing: it doesn't expire.</param>
/// <param name="RevokedAt">Since when it is refused. Missing: it wasn't revoked.</param>
/// <param name="LastUsedOn">The day (UTC) it was last used. Missing: never.</param>
public sealed record KeyItem(
    string Id,
    string Name,
    Role Role,
    bool IsUsable,
    DateTime CreatedAt,
    string CreatedBy,
    DateTime? ExpiresAt,
    DateTime? RevokedAt,
    DateOnly? LastUsedOn);

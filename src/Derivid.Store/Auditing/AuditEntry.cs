namespace Derivid.Store.Auditing;

/// <summary>One write, as the audit log keeps it. Never changed, never deleted: the database refuses both.</summary>
public sealed record AuditEntry
{
    /// <summary>Stands in place of the actor where whose a report is must not be told yet.</summary>
    public const string Withheld = "withheld";

    /// <summary>Its place in the log: from 1, without gaps, in the order the writes were committed.</summary>
    public long Sequence { get; init; }

    /// <summary>When. Units: UTC.</summary>
    public required DateTime AtUtc { get; init; }

    /// <summary>Who: "key:" and a key's public part, "sign-in:" with subject and issuer, or "service".</summary>
    public required string Actor { get; init; }

    /// <summary>What was done: the kind of thing and a verb, such as "key.revoke".</summary>
    public required string Action { get; init; }

    /// <summary>What it was done to: the address below /api/v1, such as "keys/1f0c…".</summary>
    public required string Resource { get; init; }

    /// <summary>Why, in the actor's words. Missing: null, they didn't say.</summary>
    public string? Reason { get; init; }

    /// <summary>Version of the reference table it started from. Missing: null, it has nothing to do with the table.</summary>
    public int? TableVersion { get; init; }

    /// <summary>Names the request in the service's logs and traces. Missing: null, no request asked for it.</summary>
    public string? TraceId { get; init; }
}

/// <summary>Which entries to read.</summary>
/// <param name="Actor">By whom, exactly; what is withheld is nobody's. Missing: null, by anyone.</param>
/// <param name="Action">What, exactly. Missing: null, anything.</param>
/// <param name="Resource">To what, exactly. Missing: null, to anything.</param>
/// <param name="Within">To it, or to anything whose address begins with it and a slash. Missing: null, to anything.</param>
public sealed record AuditFilter(string? Actor = null, string? Action = null, string? Resource = null, string? Within = null);

/// <summary>Where a write comes from: who, why, and by which request.</summary>
/// <param name="Actor">Who; see <see cref="AuditEntry.Actor"/>.</param>
/// <param name="Reason">Why, in their words. Missing: null.</param>
/// <param name="TraceId">Names the request. Missing: null.</param>
public sealed record AuditOrigin(string Actor, string? Reason, string? TraceId)
{
    /// <summary>Whether they may write to every course; whoever else does has to be of its staff, or its student.</summary>
    public bool IsAdministrator { get; init; }

    /// <summary>What the service does by itself.</summary>
    public static AuditOrigin Service { get; } = new("service", null, null);
}

namespace Derivid.Store.Auditing;

/// <summary>Where a write comes from: who, why, and by which request.</summary>
/// <param name="Actor">Who; see <see cref="AuditEntry.Actor"/>.</param>
/// <param name="Reason">Why, in their words. Missing: null.</param>
/// <param name="TraceId">Names the request. Missing: null.</param>
public sealed record AuditOrigin(string Actor, string? Reason, string? TraceId)
{
    /// <summary>What the service does by itself.</summary>
    public static AuditOrigin Service { get; } = new("service", null, null);
}

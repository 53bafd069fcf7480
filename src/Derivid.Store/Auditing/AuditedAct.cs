namespace Derivid.Store.Auditing;

/// <summary>One thing that was done, to be taken down.</summary>
/// <param name="Action">What; see <see cref="AuditEntry.Action"/>. No secret, no unknown's identity.</param>
/// <param name="Resource">To what; see <see cref="AuditEntry.Resource"/>. No secret, no unknown's identity.</param>
/// <param name="TableVersion">The table version it started from. Missing: null.</param>
public sealed record AuditedAct(string Action, string Resource, int? TableVersion = null);

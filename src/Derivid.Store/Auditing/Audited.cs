namespace Derivid.Store.Auditing;

/// <summary>What a piece of work comes to, and what the audit log is to say of it.</summary>
/// <typeparam name="T">What the work returns.</typeparam>
/// <param name="Result">What it returns.</param>
/// <param name="Acts">What it did, in order. Shape: empty when it changed nothing.</param>
public sealed record Audited<T>(T Result, params IReadOnlyList<AuditedAct> Acts);

/// <summary>One thing that was done, to be taken down.</summary>
/// <param name="Action">What; see <see cref="AuditEntry.Action"/>. No secret, no unknown's identity.</param>
/// <param name="Resource">To what; see <see cref="AuditEntry.Resource"/>. No secret, no unknown's identity.</param>
/// <param name="TableVersion">The table version it started from. Missing: null.</param>
public sealed record AuditedAct(string Action, string Resource, int? TableVersion = null);

namespace Derivid.Store.Auditing;

/// <summary>What a piece of work comes to, and what the audit log is to say of it.</summary>
/// <typeparam name="T">What the work returns.</typeparam>
/// <param name="Result">What it returns.</param>
/// <param name="Acts">What it did, in order. Shape: empty when it changed nothing.</param>
public sealed record Audited<T>(T Result, params IReadOnlyList<AuditedAct> Acts);

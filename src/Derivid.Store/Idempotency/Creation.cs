using Derivid.Store.Auditing;

namespace Derivid.Store.Idempotency;

/// <summary>Something created, its id and what the audit log is to say.</summary>
/// <typeparam name="T">What is created.</typeparam>
/// <param name="Value">The thing.</param>
/// <param name="Id">Finds it again.</param>
/// <param name="Acts">For the audit log.</param>
public sealed record Creation<T>(T Value, string Id, params IReadOnlyList<AuditedAct> Acts);

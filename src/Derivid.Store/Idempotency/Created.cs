namespace Derivid.Store.Idempotency;

/// <summary>What a creation came to.</summary>
/// <typeparam name="T">What is created.</typeparam>
/// <param name="Value">The thing.</param>
/// <param name="IsNew">Whether it was created now; else an earlier request of the same mark had created it.</param>
public sealed record Created<T>(T Value, bool IsNew);

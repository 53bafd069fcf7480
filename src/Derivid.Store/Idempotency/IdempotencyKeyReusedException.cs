namespace Derivid.Store.Idempotency;

/// <summary>The sender used one word for two different requests; nothing was changed.</summary>
public sealed class IdempotencyKeyReusedException : Exception
{
    /// <summary>Names the word.</summary>
    /// <param name="key">The sender's word.</param>
    public IdempotencyKeyReusedException(string key)
        : base($"The key '{key}' was sent before with another address or body.") => Key = key;

    /// <summary>The sender's word.</summary>
    public string Key { get; }
}

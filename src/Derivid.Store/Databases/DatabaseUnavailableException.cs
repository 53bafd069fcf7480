namespace Derivid.Store.Databases;

/// <summary>The database can't be reached or used just now; the same call may succeed later.</summary>
/// <remarks>Whatever was being stored is stored whole or not at all, and storing it again is safe.</remarks>
public sealed class DatabaseUnavailableException : Exception
{
    /// <summary>When to try again, as a hint to callers. Units: s.</summary>
    public const int RetryAfterSeconds = 5;

    /// <summary>Takes the provider's exception.</summary>
    /// <param name="engine">The engine's name.</param>
    /// <param name="cause">What the provider said.</param>
    public DatabaseUnavailableException(string engine, Exception cause)
        : base($"The {engine} database can't be used just now.", cause)
    {
    }
}

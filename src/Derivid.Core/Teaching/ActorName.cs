namespace Derivid.Core.Teaching;

/// <summary>How whoever calls the service is named: in the audit log, as an author, in a roster.</summary>
public static class ActorName
{
    /// <summary>Longest name taken. Units: characters.</summary>
    public const int LongestCount = 300;

    /// <summary>Begins the name of whoever sends a key; its public part follows.</summary>
    public const string KeyPrefix = "key:";

    /// <summary>Begins the name of whoever signed in at the institution; subject and issuer follow, a space between them.</summary>
    public const string SignInPrefix = "sign-in:";

    /// <summary>Whoever sends a key.</summary>
    /// <param name="keyId">The key's public part.</param>
    public static string OfKey(string keyId) => KeyPrefix + keyId;

    /// <summary>Whoever signed in at the institution.</summary>
    /// <param name="subject">Who they are there.</param>
    /// <param name="issuer">The institution.</param>
    public static string OfSignIn(string subject, string issuer) => $"{SignInPrefix}{subject} {issuer}";

    /// <summary>Public part of the key somebody sends.</summary>
    /// <param name="actor">Their name.</param>
    /// <returns>Missing: null, they signed in.</returns>
    public static string? KeyIdOf(string actor)
    {
        ArgumentNullException.ThrowIfNull(actor);
        return actor.StartsWith(KeyPrefix, StringComparison.Ordinal) ? actor[KeyPrefix.Length..] : null;
    }

    /// <summary>Whether a text names somebody who can call the service.</summary>
    /// <param name="text">The text.</param>
    public static bool IsOne(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.StartsWith(KeyPrefix, StringComparison.Ordinal) || text.StartsWith(SignInPrefix, StringComparison.Ordinal);
    }
}

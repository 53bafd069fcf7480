namespace Derivid.Client;

/// <summary>Something as it was last seen, with the tag (RFC 9110) that a change of it has to name.</summary>
/// <typeparam name="T">What it is.</typeparam>
/// <param name="Value">The thing.</param>
/// <param name="Tag">Its entity tag.</param>
public sealed record Versioned<T>(T Value, string Tag);

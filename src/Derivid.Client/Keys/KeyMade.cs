namespace Derivid.Client.Keys;

/// <summary>A key just made.</summary>
/// <param name="Key">The whole key. It is shown this once and can't be fetched again.</param>
/// <param name="Details">All about it that can be fetched later.</param>
public sealed record KeyMade(string Key, KeyItem Details);

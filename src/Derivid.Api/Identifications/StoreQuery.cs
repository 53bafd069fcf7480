namespace Derivid.Api.Identifications;

/// <summary>Whether an identification is kept.</summary>
public sealed record StoreQuery
{
    /// <summary>Whether to store it, so that it can be fetched and replayed by its id. Missing: true.</summary>
    public bool? Store { get; init; }
}

namespace Derivid.Api.Http;

/// <summary>How much one request may hold.</summary>
public static class RequestLimits
{
    /// <summary>Body of one observation. Units: bytes.</summary>
    public const int SingleBytes = 64 * 1024;

    /// <summary>Body of a batch: about 4 KB for each of a thousand observations. Units: bytes.</summary>
    public const int BatchBytes = 4 * 1024 * 1024;

    /// <summary>Body of an import: several hundred thousand rows. Units: bytes.</summary>
    public const int ImportBytes = 64 * 1024 * 1024;
}

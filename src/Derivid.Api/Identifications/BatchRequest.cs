using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Identifications;

/// <summary>Many observations at once, such as a class's.</summary>
public sealed record BatchRequest
{
    /// <summary>Most items.</summary>
    public const int MostItems = 1000;

    /// <summary>Most candidates listed over all items together.</summary>
    public const int MostCandidates = 20_000;

    /// <summary>The observations; each is answered by itself, in this order.</summary>
    [MinLength(1)]
    [MaxLength(MostItems)]
    public required IReadOnlyList<BatchItem> Items { get; init; }
}

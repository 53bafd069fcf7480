using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Http;

/// <summary>What every list of stored rows can be asked.</summary>
public record RowQuery
{
    /// <summary>Rows on one page when nothing is said.</summary>
    public const int DefaultLimit = 100;

    /// <summary>Most rows on one page. Missing: 100.</summary>
    [Range(1, 500)]
    public int? Limit { get; init; }

    /// <summary>Where to go on, as the last page's next link has it; it means nothing else. Missing: from the start.</summary>
    [StringLength(200)]
    public string? Cursor { get; init; }
}

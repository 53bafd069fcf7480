using System.ComponentModel.DataAnnotations;

namespace Derivid.Contracts;

/// <summary>One page of a list.</summary>
/// <typeparam name="T">What a row is.</typeparam>
/// <param name="TableVersion">Version of the reference table listed.</param>
/// <param name="Total">Rows on all pages together.</param>
/// <param name="Items">The rows of this page.</param>
/// <param name="Next">Address of the next page; it stays with the same table version. Missing: this is the last.</param>
public sealed record Page<T>(int TableVersion, int Total, IReadOnlyList<T> Items, string? Next);

/// <summary>One page of a list of stored rows. Rows that come while the list is read are neither doubled nor skipped.</summary>
/// <typeparam name="T">What a row is.</typeparam>
/// <param name="Items">The rows of this page.</param>
/// <param name="Next">Address of the next page. Missing: this is the last.</param>
public sealed record RowPage<T>(IReadOnlyList<T> Items, string? Next);

/// <summary>What every list can be asked.</summary>
public record PageQuery
{
    /// <summary>Most rows on one page. Missing: 100.</summary>
    [Range(1, 500)]
    public int? Limit { get; init; }

    /// <summary>Where to go on, as the last page's next link has it; it means nothing else. Missing: from the start.</summary>
    [StringLength(200)]
    public string? Cursor { get; init; }
}

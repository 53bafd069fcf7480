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

namespace Derivid.Api.Table;

/// <summary>One page of a list.</summary>
/// <typeparam name="T">What a row is.</typeparam>
/// <param name="TableVersion">Version of the reference table listed.</param>
/// <param name="Total">Rows on all pages together.</param>
/// <param name="Items">The rows of this page.</param>
/// <param name="Next">Address of the next page; it stays with the same table version. Missing: this is the last.</param>
public sealed record Page<T>(int TableVersion, int Total, IReadOnlyList<T> Items, string? Next);

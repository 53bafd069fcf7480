namespace Derivid.Api.Http;

/// <summary>One page of a list of stored rows. Rows that come while the list is read are neither doubled nor skipped.</summary>
/// <typeparam name="T">What a row is.</typeparam>
/// <param name="Items">The rows of this page.</param>
/// <param name="Next">Address of the next page. Missing: this is the last.</param>
public sealed record RowPage<T>(IReadOnlyList<T> Items, string? Next);

namespace Derivid.Api.Teaching;

/// <summary>What can be told apart on the shelf of a course.</summary>
/// <param name="TableVersion">Version of the reference table it was worked out on.</param>
/// <param name="Items">Every compound of the shelf, by key.</param>
public sealed record ShelfCheck(int TableVersion, IReadOnlyList<ShelfItem> Items);

namespace Derivid.Client.Table;

/// <summary>One step of the ordered vocabulary of precipitate colours.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Rank">Place in the order, palest first, from 0.</param>
/// <param name="Synonyms">Other words accepted in requests.</param>
public sealed record ColourItem(string Key, string Name, int Rank, IReadOnlyList<string> Synonyms);

namespace Derivid.Core.Colours;

/// <summary>One step of the ordered vocabulary of precipitate colours, palest first.</summary>
/// <param name="Key">Stable key; unique in a table.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Rank">Place in the order, from 0 without gaps.</param>
/// <param name="Synonyms">Other words accepted for it. Shape: may be empty.</param>
public sealed record Colour(string Key, string Name, int Rank, IReadOnlyList<string> Synonyms);

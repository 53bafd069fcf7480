namespace Derivid.Core.Colours;

/// <summary>A word of the vocabulary of precipitate colours; most are steps of an order from pale to dark.</summary>
/// <param name="Key">Stable key; unique in a table.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Rank">
/// Place in the order, from 0, palest, without gaps. Missing: null, outside it, as white and colourless are: no precipitate
/// whose colour tells parents apart is white, so it is noted and carries no weight.
/// </param>
/// <param name="Synonyms">Other words accepted for it. Shape: may be empty.</param>
public sealed record Colour(string Key, string Name, int? Rank, IReadOnlyList<string> Synonyms);

/// <summary>The true colours expected of one derivative kind for parents of one structural class.</summary>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Order">Rows of a kind are tried in this order; the first whose class fits the parent applies.</param>
/// <param name="StructureClass">
/// Features the parent must all have, joined by "+", or "any". See <c>Structures.StructureFeature</c>.
/// </param>
/// <param name="Weights">Shape: one probability a colour that has a rank, in rank order, summing to 1.</param>
/// <param name="SourceKey">Source of the expectation.</param>
/// <param name="IsAssumed">Whether the weights are assumed, for want of published frequencies.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record ColourExpectation(
    string KindKey,
    int Order,
    string StructureClass,
    IReadOnlyList<double> Weights,
    string SourceKey,
    bool IsAssumed,
    string? Note);

namespace Derivid.Core.Melting;

/// <summary>One piece of a melting range's text.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">As written; digits with a point for the decimal mark in a number.</param>
/// <param name="Meaning">What a word means; <see cref="MeltingRangeWord.Unknown"/> for all else.</param>
/// <param name="SpaceBefore">Whether white space stands before it.</param>
internal readonly record struct MeltingRangeToken(
    MeltingRangeTokenKind Kind,
    string Text,
    MeltingRangeWord Meaning,
    bool SpaceBefore);

/// <summary>The kinds of token.</summary>
internal enum MeltingRangeTokenKind
{
    End,
    Number,
    Dash,
    Plus,
    Word,
}

namespace Derivid.Core.Structures;

/// <summary>Why a SMILES text was not read.</summary>
/// <param name="Position">The character it is about, counted from 1; one past the end where something lacks.</param>
/// <param name="Sentence">What is not read and what is allowed.</param>
public sealed record SmilesError(int Position, string Sentence);

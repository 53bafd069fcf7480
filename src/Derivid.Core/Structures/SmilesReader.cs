using System.Diagnostics.CodeAnalysis;

namespace Derivid.Core.Structures;

/// <summary>Reads a structure written in the OpenSMILES notation.</summary>
/// <remarks>
/// Read: the organic subset B C N O P S F Cl Br I and b c n o p s; bracket atoms with isotope, configuration,
/// hydrogens, charge and class, of every element of <see cref="StandardAtomicWeights"/> and lower-case b c n o p s se
/// as; bonds
/// - = # $ : / \; branches; ring closures 0 to 9 and %10 to %99; the dot between unconnected parts.
/// Read and dropped: configuration of atoms (@, @@, @TH1 ...) and atom class; they change neither formula nor features.
/// That of double bonds (/ and \) is kept for drawings.
/// Not read: the wildcard *, reactions (>), query and extended notations, text after a space.
/// Hydrogens left out are filled up to the OpenSMILES valences (B 3; C 4; N, P 3 or 5; O 2; S 2, 4 or 6; halogens 1).
/// Departures: an atom with more bonds than its element takes is refused, where OpenSMILES gives it no hydrogens
/// (Cl, Br and I may have up to 7); a lower-case system must have a drawing with alternating bonds; a bond left
/// out between two lower-case atoms is a single bond where it is in no ring; @ and @@ are not checked for sense.
/// Source: OpenSMILES specification, version 1.0, 2016-05-15, opensmiles.org.
/// </remarks>
public static class SmilesReader
{
    /// <summary>The longest text that is read. Units: characters.</summary>
    public const int MaximumLength = 1000;

    /// <summary>Reads a text. Never throws: what cannot be read comes back as an error with its position.</summary>
    /// <param name="smiles">The text; null is read like an empty one.</param>
    public static SmilesReading Read(string? smiles)
    {
        if (string.IsNullOrEmpty(smiles))
        {
            return Failed(1, "The structure is empty; write at least one atom, such as \"CC(C)=O\" for propanone.");
        }

        if (smiles.Length > MaximumLength)
        {
            return Failed(
                MaximumLength + 1,
                $"The structure has {smiles.Length} characters; at most {MaximumLength} are read.");
        }

        var draft = new SmilesDraft();
        SmilesError? error = new SmilesScanner(smiles, draft).Scan()
            ?? AromaticBonds.Settle(draft)
            ?? Valence.FillAndCheck(draft)
            ?? KekuleDrawing.Settle(draft);
        return error is null ? new SmilesReading(draft.ToMolecule()) : new SmilesReading(error);
    }

    private static SmilesReading Failed(int position, string sentence) => new(new SmilesError(position, sentence));
}

/// <summary>What came of reading a SMILES text: a molecule, or the reason there is none.</summary>
public sealed record SmilesReading
{
    internal SmilesReading(Molecule molecule) => Molecule = molecule;

    internal SmilesReading(SmilesError error) => Error = error;

    /// <summary>The molecule. Missing: null where <see cref="Error"/> says why.</summary>
    public Molecule? Molecule { get; }

    /// <summary>The reason. Missing: null where there is a molecule.</summary>
    public SmilesError? Error { get; }

    /// <summary>Whether the text was read.</summary>
    [MemberNotNullWhen(true, nameof(Molecule))]
    [MemberNotNullWhen(false, nameof(Error))]
    public bool IsRead => Molecule is not null;
}

/// <summary>Why a SMILES text was not read.</summary>
/// <param name="Position">The character it is about, counted from 1; one past the end where something lacks.</param>
/// <param name="Sentence">What is not read and what is allowed.</param>
public sealed record SmilesError(int Position, string Sentence);

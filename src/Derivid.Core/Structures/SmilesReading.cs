using System.Diagnostics.CodeAnalysis;

namespace Derivid.Core.Structures;

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

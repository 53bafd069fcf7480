using System.Security.Cryptography;
using System.Text;

namespace Derivid.Core.Structures;

/// <summary>A name for a structure that doesn't hang on how it is written.</summary>
/// <remarks>
/// Each atom's label is widened by its neighbours' a few times; the sorted labels are the fingerprint. Equal structures
/// have equal fingerprints; unequal ones nearly always differ, so that two with one fingerprint are looked at by hand.
/// Isotopes are in it, configuration is not: E and Z share one.
/// Source: H. L. Morgan, "The generation of a unique machine description for chemical structures", J. Chem. Doc. 1965,
/// 5, 107-113 (the refinement; recalled). Departures: no numbering is derived from it.
/// </remarks>
public static class StructureFingerprint
{
    private const int Rounds = 8;
    private const int LabelDigits = 16;

    /// <summary>Works it out.</summary>
    /// <param name="molecule">The structure.</param>
    /// <returns>64 hexadecimal digits.</returns>
    public static string Of(Molecule molecule)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        var labels = molecule.Atoms.Select((atom, i) => FormattableString.Invariant(
            $"{atom.Symbol}{atom.Hydrogens}{atom.Charge}{(molecule.IsAromatic(i) ? "a" : "")}{IsotopesOf(atom)}")).ToArray();
        for (var round = 0; round < Rounds; round++)
        {
            labels = [.. labels.Select((label, i) => Hash(label + "(" + Around(molecule, i, labels) + ")")[..LabelDigits])];
        }

        return Hash(string.Join(' ', labels.Order(StringComparer.Ordinal)));
    }

    // Empty where nothing is labelled.
    private static string IsotopesOf(Atom atom) => atom is { Isotope: null, HydrogenLabels: 0 }
        ? ""
        : FormattableString.Invariant($"i{atom.Isotope}h{atom.HydrogenLabels}");

    // Bonds between aromatic atoms count alike, since which of them are drawn double is not settled.
    private static string Around(Molecule molecule, int atom, string[] labels) =>
        string.Join(',', molecule.NeighboursOf(atom)
            .Select(next => (molecule.IsAromatic(atom) && molecule.IsAromatic(next.Atom)
                ? "" : FormattableString.Invariant($"{next.Order}")) + labels[next.Atom])
            .Order(StringComparer.Ordinal));

    private static string Hash(string text) => Convert.ToHexString(SHA256.HashData(Encoding.UTF8.GetBytes(text)));
}

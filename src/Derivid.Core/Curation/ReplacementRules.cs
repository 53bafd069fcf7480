using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>A listed compound that is drawn as another one keeps what was found of the old: number, names, derivatives.</summary>
internal static class ReplacementRules
{
    /// <summary>Checks each parent that was there before.</summary>
    /// <param name="table">The table made.</param>
    /// <param name="listed">The table it was made from.</param>
    /// <returns>Shape: warnings, in the order of the table.</returns>
    public static List<TableFinding> Check(ReferenceTable table, TableIndex listed)
    {
        var found = new List<TableFinding>();
        var derivatives = table.Derivatives.CountBy(row => row.ParentKey, StringComparer.Ordinal).ToDictionary(StringComparer.Ordinal);
        foreach (var parent in table.Parents)
        {
            if (listed.Find(RecordKinds.Parents, parent.Key) is { } before && before.Smiles != parent.Smiles
                && IsAnother(before.Smiles, parent.Smiles) && Kept(before, parent, derivatives.GetValueOrDefault(parent.Key)) is { Count: > 0 } kept)
            {
                new RecordFindings(RecordKinds.Parents, parent.Key, found).Expect(false, nameof(parent.Smiles), parent.Smiles,
                    $"the structure listed, {before.Smiles}, {InWords(before)}; this is another compound, {InWords(parent)}, and the record keeps {string.Join(" and ", kept)}. "
                    + "If the listed structure was wrong, look whether these are of the right one; if not, give the other compound a record of its own");
            }
        }

        return found;
    }

    private static bool IsAnother(string before, string after) =>
        SmilesReader.Read(before).Molecule is { } old && SmilesReader.Read(after).Molecule is { } drawn
        && StructureFingerprint.Of(old) != StructureFingerprint.Of(drawn);

    private static List<string> Kept(Parent before, Parent after, int derivatives)
    {
        var kept = new List<string>();
        if (after.CasNumber is not null && after.CasNumber == before.CasNumber)
        {
            kept.Add("CAS number " + after.CasNumber);
        }

        if (derivatives > 0)
        {
            kept.Add(Figure.Count(derivatives, "derivative"));
        }

        return kept;
    }

    private static string InWords(Parent parent) => $"{parent.Formula}, {parent.Kind switch
    {
        ParentKind.Aldehyde => "an aldehyde",
        ParentKind.Ketone => "a ketone",
        ParentKind.Both => "aldehyde and ketone",
        ParentKind.Masked => "a masked carbonyl compound",
    }}";
}

using Derivid.Core.Compounds;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Drawing;

/// <summary>Every structure of the table that can be drawn: the parents, and their derivatives where they can be told.</summary>
internal static class TableDrawings
{
    /// <summary>Shape: by parent; the parent first. Missing: no structure where the derivative can't be told.</summary>
    public static IReadOnlyList<TableDrawing> All { get; } = [.. Of()];

    private static IEnumerable<TableDrawing> Of()
    {
        foreach (Parent parent in Table.Parents)
        {
            Molecule molecule = SmilesReader.Read(parent.Smiles).Molecule!;
            yield return new TableDrawing(parent.Name, parent.Key, null, 0, molecule, null);
            var derivatives = Table.Derivatives.Where(row => row.ParentKey == parent.Key)
                .Select(row => (row.KindKey, row.CarbonylsCondensed)).Distinct().Order();
            foreach ((string kind, int carbonyls) in derivatives)
            {
                Condensation condensation = Condensation.Of(molecule, Kinds[kind], carbonyls);
                string times = carbonyls > 1 ? FormattableString.Invariant($" ({carbonyls} times)") : "";
                yield return new TableDrawing(
                    $"{parent.Name} {Kinds[kind].Name}{times}", parent.Key, kind, carbonyls, condensation.Product, condensation.Reason);
            }
        }
    }
}

/// <summary>A structure of the table.</summary>
internal sealed record TableDrawing(
    string Title, string ParentKey, string? KindKey, int CarbonylsCondensed, Molecule? Molecule, string? Reason);

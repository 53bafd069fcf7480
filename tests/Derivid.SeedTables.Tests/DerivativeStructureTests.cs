using Derivid.Core.Compounds;
using Derivid.Core.Structures;
using Derivid.Core.Tests.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>
/// The derivatives of the table, against structures that an independent toolkit built from parent and reagent;
/// see tests/reference-values/structures/README.md.
/// </summary>
public sealed class DerivativeStructureTests
{
    private const string Regenerate =
        "run: cd tests/reference-values/structures && npm ci && node write-structures.mjs";

    [Fact]
    public void EveryParentHasAReferenceRowWithItsStructure()
    {
        var expected = Table.Parents.Select(parent => $"{parent.Key} {parent.Smiles}");
        var found = ReferenceStructure.All.Where(row => row.Role == "parent").Select(row => $"{row.Key} {row.Smiles}");
        AssertSame(expected, found);
    }

    [Fact]
    public void EveryPairOfParentAndKindHasAReferenceRow()
    {
        var expected = Table.Derivatives
            .Select(row => $"{row.ParentKey} {row.KindKey} {row.CarbonylsCondensed}")
            .Distinct();
        var found = ReferenceStructure.All
            .Where(row => row.Role == "derivative")
            .Select(row => $"{row.Key} {row.KindKey} {row.CarbonylsCondensed}");
        AssertSame(expected, found);
    }

    [Fact]
    public void FormulaOfTheBuiltStructureIsParentPlusReagentsMinusWaters() => Assert.All(
        ReferenceStructure.All.Where(row => row.Role == "derivative"),
        row =>
        {
            DerivativeKind kind = Kinds[row.KindKey];
            int carbonyls = row.CarbonylsCondensed!.Value;
            MolecularFormula balance = Read(Parents[row.Key].Smiles).Formula
                + (carbonyls * kind.ReagentsPerCarbonyl * Read(kind.ReagentSmiles).Formula)
                - (carbonyls * kind.WatersPerCarbonyl * MolecularFormula.Water);
            Assert.Equal(row.Formula, balance.ToString());
            Assert.Equal(balance, Read(row.Smiles).Formula);
        });

    [Fact]
    public void CarbonylGroupsOfABuiltStructureAreThoseThatDidNotReact() => Assert.All(
        ReferenceStructure.All.Where(row => row.Role == "derivative"),
        row =>
        {
            DerivativeKind kind = Kinds[row.KindKey];
            int broughtIn = CarbonylEnvironment.Of(Read(kind.ReagentSmiles)).CarbonylGroups * kind.ReagentsPerCarbonyl;
            int before = CarbonylEnvironment.Of(Read(Parents[row.Key].Smiles)).CarbonylGroups;
            int after = CarbonylEnvironment.Of(Read(row.Smiles)).CarbonylGroups;
            Assert.Equal(before + ((broughtIn - 1) * row.CarbonylsCondensed!.Value), after);
        });

    private static Molecule Read(string smiles) => SmilesReader.Read(smiles).Molecule
        ?? throw new InvalidDataException($"{smiles} is not read.");

    private static void AssertSame(IEnumerable<string> expected, IEnumerable<string> found)
    {
        var missing = expected.Except(found).ToList();
        var stale = found.Except(expected).ToList();
        Assert.True(
            missing.Count + stale.Count == 0,
            $"structures.csv is not of this table; {Regenerate}\n"
            + $"without a row: {string.Join(", ", missing)}\nno longer in the table: {string.Join(", ", stale)}");
    }
}

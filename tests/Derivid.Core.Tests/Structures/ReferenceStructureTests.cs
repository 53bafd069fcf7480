using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>Every structure of the reference file, against what the independent toolkit says of it.</summary>
public sealed class ReferenceStructureTests
{
    private const double RelativeMassTolerance = 3e-5;

    // The toolkit's atomic weights are those of an older edition. These differ from the 2021 ones by more than the
    // tolerance; both figures stand beside each, and the allowance is their difference.
    private static readonly Dictionary<string, double> Allowances = new()
    {
        ["H"] = 1.0080 - 1.00794,
        ["Li"] = 6.941 - 6.94,
        ["B"] = 10.811 - 10.81,
        ["Si"] = 28.086 - 28.085,
        ["S"] = 32.066 - 32.06,
        ["Cl"] = 35.453 - 35.45,
        ["Ar"] = 39.95 - 39.948,
        ["Zn"] = 65.39 - 65.38,
        ["Ge"] = 72.630 - 72.61,
        ["Se"] = 78.971 - 78.96,
        ["Mo"] = 95.95 - 95.94,
        ["Yb"] = 173.05 - 173.04,
    };

    [Fact]
    public void FileHoldsEnoughStructures()
    {
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "public") >= 200);
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "parent") >= 150);
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "derivative") >= 400);
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "element") >= 80);
    }

    [Fact]
    public void EveryFeatureHasAQuery() => Assert.Empty(
        StructureFeatureNames.All.Except(StructureFeatureNames.Of(ReferenceStructure.FeaturesAsked)));

    [Fact]
    public void EveryFeatureIsSetInSomeRowAndUnsetInAnother() => Assert.All(
        StructureFeatureNames.All,
        name =>
        {
            Assert.True(StructureFeatureNames.TryParse(name, out StructureFeature feature));
            Assert.Contains(ReferenceStructure.All, row => (row.Features & feature) != 0);
            Assert.Contains(ReferenceStructure.All, row => (row.Features & feature) == 0);
        });

    [Fact]
    public void EveryStructureIsRead() => AssertNone(row => SmilesReader.Read(row.Smiles).Error?.ToString());

    [Fact]
    public void FormulasAgree() => AssertNone(row => Difference(row.Formula, Molecule(row.Smiles).Formula.ToString()));

    [Fact]
    public void MolarMassesAgree() => AssertNone(row =>
    {
        MolecularFormula formula = Molecule(row.Smiles).Formula;
        double tolerance = (RelativeMassTolerance * formula.MolarMass)
            + formula.Counts.Sum(entry => entry.Value * Allowances.GetValueOrDefault(entry.Key));
        return row.MolarMass is not double theirs || Math.Abs(formula.MolarMass - theirs) <= tolerance
            ? null
            : $"{formula.MolarMass} instead of {theirs}, tolerance {tolerance}";
    });

    [Fact]
    public void RingBondsAgree() => AssertNone(row =>
    {
        Molecule molecule = Molecule(row.Smiles);
        return Difference(row.RingBonds, Enumerable.Range(0, molecule.Bonds.Length).Count(molecule.IsRingBond));
    });

    [Fact]
    public void CarbonylGroupsAgree() => AssertNone(row =>
        Difference(row.Carbonyls, CarbonylEnvironment.Of(Molecule(row.Smiles)).CarbonylGroups));

    [Fact]
    public void FeaturesAgreeButForTheKnownDifferences() => AssertNone(row =>
    {
        // A derivative goes by its parent's key, and is another structure.
        StructureFeature known = ReferenceStructure.KnownDifferences[row.Role == "derivative" ? "" : row.Key]
            .Aggregate(StructureFeature.None, (all, feature) => all | feature);
        return FeatureDifference(row.Features ^ known, FeaturesOf(Molecule(row.Smiles)));
    });

    [Fact]
    public void OtherTextsOfAMoleculeGiveTheSame() => AssertNone(row =>
    {
        Molecule first = Molecule(row.Smiles);
        return row.OtherSmiles.Select(other => SecondReading(first, other)).FirstOrDefault(found => found is not null);
    });

    private static string? SecondReading(Molecule first, string other)
    {
        SmilesReading reading = SmilesReader.Read(other);
        string? difference = !reading.IsRead
            ? reading.Error.ToString()
            : Difference(first.Formula, reading.Molecule.Formula)
                ?? Difference(first.Charge, reading.Molecule.Charge)
                ?? FeatureDifference(FeaturesOf(first), FeaturesOf(reading.Molecule));
        return difference is null ? null : $"{other}: {difference}";
    }

    private static StructureFeature FeaturesOf(Molecule molecule) => CarbonylEnvironment.Of(molecule).Features;

    private static Molecule Molecule(string smiles) => SmilesReader.Read(smiles).Molecule
        ?? throw new InvalidDataException($"{smiles} is not read.");

    private static string? FeatureDifference(StructureFeature expected, StructureFeature actual) => expected == actual
        ? null
        : $"missing [{string.Join(' ', StructureFeatureNames.Of(expected & ~actual))}], "
            + $"too many [{string.Join(' ', StructureFeatureNames.Of(actual & ~expected))}]";

    private static string? Difference<T>(T expected, T actual)
        where T : IEquatable<T> => expected.Equals(actual) ? null : $"{actual} instead of {expected}";

    private static void AssertNone(Func<ReferenceStructure, string?> difference)
    {
        var found = ReferenceStructure.All
            .Select(row => (Row: row, Text: difference(row)))
            .Where(pair => pair.Text is not null)
            .Select(pair => $"{pair.Row}: {pair.Text}")
            .ToList();
        Assert.True(found.Count == 0, $"{found.Count} differ:\n{string.Join('\n', found)}");
    }
}

using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>Every structure of the reference file, against what the independent toolkit says of it.</summary>
public sealed class ReferenceStructureTests
{
    // The toolkit's own table of atomic weights has other editions and digits; see the README of the file.
    private const double RelativeMassTolerance = 2e-5;

    [Fact]
    public void FileHoldsEnoughStructures()
    {
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "public") >= 200);
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "parent") >= 150);
        Assert.True(ReferenceStructure.All.Count(row => row.Role == "derivative") >= 400);
    }

    [Fact]
    public void EveryStructureIsRead() => AssertNone(row =>
    {
        SmilesReading reading = SmilesReader.Read(row.Smiles);
        return reading.IsRead ? null : $"position {reading.Error.Position}: {reading.Error.Sentence}";
    });

    [Fact]
    public void FormulasAgree() => AssertNone(row => Difference(row.Formula, Molecule(row.Smiles).Formula.ToString()));

    [Fact]
    public void MolarMassesAgree() => AssertNone(row =>
    {
        double ours = Molecule(row.Smiles).Formula.MolarMass;
        return row.MolarMass is not double theirs || Math.Abs(ours - theirs) <= RelativeMassTolerance * theirs
            ? null
            : $"{ours} instead of {theirs}";
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
    public void FeaturesAgree() => AssertNone(row => FeatureDifference(row, row.Smiles));

    [Fact]
    public void OtherTextsOfAMoleculeGiveTheSame() => AssertNone(row =>
    {
        Molecule first = Molecule(row.Smiles);
        StructureFeature features = CarbonylEnvironment.Of(first).Features;
        foreach (string other in row.OtherSmiles)
        {
            SmilesReading reading = SmilesReader.Read(other);
            string? difference = !reading.IsRead
                ? reading.Error.ToString()
                : Difference(first.Formula, reading.Molecule.Formula)
                    ?? FeatureDifference(features, CarbonylEnvironment.Of(reading.Molecule).Features);
            if (difference is not null)
            {
                return $"{other}: {difference}";
            }
        }

        return null;
    });

    private static Molecule Molecule(string smiles) => SmilesReader.Read(smiles).Molecule
        ?? throw new InvalidDataException($"{smiles} is not read.");

    private static string? FeatureDifference(ReferenceStructure row, string smiles) => FeatureDifference(
        row.Features, CarbonylEnvironment.Of(Molecule(smiles)).Features & ReferenceStructure.FeaturesAsked);

    private static string? FeatureDifference(StructureFeature expected, StructureFeature actual) => expected == actual
        ? null
        : $"missing [{string.Join(' ', StructureFeatureNames.Of(expected & ~actual))}], "
            + $"too many [{string.Join(' ', StructureFeatureNames.Of(actual & ~expected))}]";

    private static string? Difference<T>(T expected, T actual)
        where T : IEquatable<T> => expected.Equals(actual) ? null : $"{actual} instead of {expected}";

    private static void AssertNone(Func<ReferenceStructure, string?> difference)
    {
        var found = ReferenceStructure.All
            .Select(row => (row, Text: difference(row)))
            .Where(pair => pair.Text is not null)
            .Select(pair => $"{pair.row.Role} {pair.row.Key} ({pair.row.Smiles}): {pair.Text}")
            .ToList();
        Assert.True(found.Count == 0, $"{found.Count} differ:\n{string.Join('\n', found)}");
    }
}

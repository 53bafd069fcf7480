using Derivid.Core.Compounds;
using Derivid.Core.Drawing;
using Derivid.Core.Structures;
using Derivid.Core.Tests.Drawing;
using Derivid.Core.Tests.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Drawing;

/// <summary>Every drawing of the table, read back from the picture; and the structures of derivatives.</summary>
public sealed class DrawingTests
{
    /// <summary>Parents whose rings share more than a bond: seen in perspective, where bonds may cross.</summary>
    private static readonly HashSet<string> Bridged =
    [
        "camphor", "1-3-3-trimethylbicyclo-2-2-1-heptan-2-one", "6-6-dimethylbicyclo-3-1-1-hept-2-ene-2-carbaldehyde",
        "adamantan-2-one",
    ];

    private static IEnumerable<TableDrawing> Drawn => TableDrawings.All.Where(drawing => drawing.Molecule is not null);

    [Fact]
    public void EveryPictureCanBeReadBack()
    {
        string[] faults = [.. Drawn.Select(drawing => (drawing.Title, Faults: DrawnStructure.Of(drawing.Molecule!, drawing.Title)
                .Faults(drawing.Molecule!, Bridged.Contains(drawing.ParentKey)).ToList()))
            .Where(entry => entry.Faults.Count > 0)
            .Select(entry => $"{entry.Title}: {string.Join("; ", entry.Faults)}")];
        Assert.True(faults.Length == 0, $"{faults.Length} of {Drawn.Count()}:\n{string.Join('\n', faults)}");
    }

    [Fact]
    public void EveryPictureSaysWhatItShows() => Assert.All(
        Drawn, drawing => Assert.Equal(drawing.Title, DrawnStructure.Of(drawing.Molecule!, drawing.Title).Title));

    [Fact]
    public void ATableOfStructuresIsDrawnTheSameTwice() => Assert.All(
        Drawn.Where(drawing => drawing.KindKey is null),
        drawing => Assert.Equal(
            StructureDrawing.Svg(drawing.Molecule!, drawing.Title),
            StructureDrawing.Svg(SmilesReader.Read(Parents[drawing.ParentKey].Smiles).Molecule!, drawing.Title)));

    [Fact]
    public void DerivativesAreThoseAnIndependentToolkitBuilt()
    {
        var reference = ReferenceStructure.All.Where(row => row.Role == "derivative")
            .ToDictionary(row => (row.Key, row.KindKey, row.CarbonylsCondensed!.Value), row => row.Smiles);
        Assert.All(
            Drawn.Where(drawing => drawing.KindKey is not null),
            drawing => Assert.Equal(
                StructureFingerprint.Of(SmilesReader.Read(
                    reference[(drawing.ParentKey, drawing.KindKey!, drawing.CarbonylsCondensed)]).Molecule!),
                StructureFingerprint.Of(drawing.Molecule!)));
    }

    [Fact]
    public void MassAndFormulaAreParentPlusReagentsMinusWaters() => Assert.All(
        Drawn.Where(drawing => drawing.KindKey is not null),
        drawing =>
        {
            MolecularFormula balance = DerivativeFormula.Of(
                MolecularFormula.Parse(Parents[drawing.ParentKey].Formula), Kinds[drawing.KindKey!], drawing.CarbonylsCondensed);
            Assert.Equal(balance, drawing.Molecule!.Formula);
            Assert.Equal(balance.MolarMass, drawing.Molecule.Formula.MolarMass, tolerance: 1e-9);
        });
}

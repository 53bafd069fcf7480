using System.Numerics;
using System.Xml.Linq;
using Derivid.Core.Drawing;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Drawing;

/// <summary>Shapes a chemist expects, read off the pictures.</summary>
public sealed class StructureDrawingTests
{
    [Theory]
    [InlineData("C1CC1", 60)]
    [InlineData("C1CCC1", 90)]
    [InlineData("c1ccoc1", 108)]
    [InlineData("c1ccccc1", 120)]
    [InlineData("C1CCCCCCC1", 135)]
    public void ASingleRingIsARegularPolygon(string smiles, double angle)
    {
        var drawn = DrawnStructure.Of(smiles);
        Assert.All(drawn.Bonds, bond => Assert.Equal(drawn.MeanLength, drawn.Length(bond), tolerance: 0.05));
        Assert.All(drawn.Atoms, atom =>
        {
            int[] beside = [.. Beside(drawn, atom.Index)];
            Assert.Equal(angle, drawn.Angle(beside[0], atom.Index, beside[1]), tolerance: 0.2);
        });
    }

    [Fact]
    public void AChainZigzagsAt120DegreesAndIsStretchedOut()
    {
        var drawn = DrawnStructure.Of("CCCCCCCC");
        for (int atom = 1; atom < 7; atom++)
        {
            Assert.Equal(120, drawn.Angle(atom - 1, atom, atom + 1), tolerance: 0.2);
        }

        Assert.Equal(7 * Math.Sqrt(3) / 2 * 30, Math.Abs((drawn.Atoms[0].Place - drawn.Atoms[7].Place).Real), tolerance: 0.2);
    }

    [Theory]
    [InlineData("CC#CC", 0, 1, 2)]
    [InlineData("CC#N", 0, 1, 2)]
    [InlineData("CC=C=CC", 1, 2, 3)]
    public void TripleBondsAndAllenesAreStraight(string smiles, int one, int at, int other) =>
        Assert.Equal(180, DrawnStructure.Of(smiles).Angle(one, at, other), tolerance: 0.2);

    [Theory]
    [InlineData("CC(C)=O", 0, 1, 2, 120)]
    [InlineData("CC(C)(C)C", 0, 1, 2, 90)]
    [InlineData("CS(C)(=O)=O", 0, 1, 2, 180)]
    public void WhatHangsOnAnAtomIsSpread(string smiles, int one, int at, int other, double angle)
    {
        var drawn = DrawnStructure.Of(smiles);
        Assert.Equal(angle, drawn.Angle(one, at, other), tolerance: 0.2);
    }

    [Theory]
    [InlineData("CC(C)=O", 1, 3)]
    [InlineData("O=C1CCCCC1", 1, 0)]
    [InlineData("CCCCC(=O)CC", 4, 5)]
    public void AKetoneHoldsItsOxygenUp(string smiles, int carbon, int oxygen)
    {
        var drawn = DrawnStructure.Of(smiles);
        Complex bond = drawn.Atoms[oxygen].Place - drawn.Atoms[carbon].Place;
        Assert.Equal(0, bond.Real, tolerance: 0.1);
        Assert.True(bond.Imaginary < 0);
    }

    [Theory]
    [InlineData("C/C=C/C=O", false)]
    [InlineData(@"C/C=C\C=O", true)]
    [InlineData(@"O=C(/C=C\c1ccccc1)c1ccccc1", true)]
    public void TheConfigurationOfADoubleBondIsTheOneGiven(string smiles, bool sameSide)
    {
        Molecule molecule = SmilesReader.Read(smiles).Molecule!;
        var drawn = DrawnStructure.Of(molecule, smiles);
        DoubleBondConfiguration given = Assert.Single(molecule.Configurations);
        Complex first = drawn.Atoms[given.First].Place;
        Complex along = drawn.Atoms[given.Second].Place - first;
        double one = (Complex.Conjugate(along) * (drawn.Atoms[given.BesideFirst].Place - first)).Imaginary;
        double other = (Complex.Conjugate(along) * (drawn.Atoms[given.BesideSecond].Place - first)).Imaginary;
        Assert.Equal(sameSide, one * other > 0);
    }

    [Theory]
    [InlineData("c1ccc2ccccc2c1")]
    [InlineData("O=C1c2ccccc2C(=O)c2ccccc12")]
    [InlineData("c1cc2ccc3cccc4ccc(c1)c2c34")]
    [InlineData("CC12CCC3C(C1CCC2O)CCC4=CC(=O)CCC34C")]
    public void TheSecondLineOfARingsDoubleBondLiesInARing(string smiles)
    {
        Molecule molecule = SmilesReader.Read(smiles).Molecule!;
        var drawn = DrawnStructure.Of(molecule, smiles);
        foreach (DrawnBond bond in drawn.Bonds.Where(bond => bond.Order == 2 && molecule.IsRingBond(bond.Index)))
        {
            // The middle of the shorter line is nearer to some other atom of a ring than the middle of the longer one.
            double Shift(Complex place) => drawn.Atoms
                .Where(atom => atom.Index != bond.First && atom.Index != bond.Second && molecule.IsRingAtom(atom.Index))
                .Min(atom => (atom.Place - place).Magnitude);
            (Complex From, Complex To)[] lines = [.. bond.Lines.OrderByDescending(line => (line.To - line.From).Magnitude)];
            Assert.True(
                Shift((lines[1].From + lines[1].To) / 2) < Shift((lines[0].From + lines[0].To) / 2), $"{smiles}, bond {bond.Index}");
        }
    }

    [Theory]
    [InlineData("CCO", 2, "OH")]
    [InlineData("OCC", 0, "HO")]
    [InlineData("CN", 1, "NH2")]
    [InlineData("C[N+](=O)[O-]", 1, "N+")]
    [InlineData("C[N+](=O)[O-]", 3, "O−")]
    [InlineData("C[NH3+]", 1, "NH3+")]
    [InlineData("C[Fe+2]", 1, "Fe2+")]
    [InlineData("[13CH3]CC", 0, "13CH3")]
    [InlineData("O", 0, "H2O")]
    [InlineData("C=O", 0, "H2C")]
    [InlineData("CC=C=CC", 2, "C")]
    [InlineData("CCC", 1, "")]
    public void LabelsReadAsTheFormulaOfTheGroup(string smiles, int atom, string label)
    {
        string turned = label switch
        {
            "OH" => "HO",
            "HO" => "OH",
            "NH2" => "H2N",
            "NH3+" => "H3N+",
            "13CH3" => "13H3C",
            "H2C" => "CH2",
            _ => label,
        };
        Assert.Contains(DrawnStructure.Of(smiles).Atoms[atom].Label, (string[])[label, turned]);
    }

    // Fused, peri-fused, spiro, bridged, large, several parts, crowded: all atoms, all bonds, all labels clear.
    [Theory]
    [InlineData("O=C1CCC2(CC1)CCCC2", false)]
    [InlineData("c1cc2ccc3cccc4ccc(c1)c2c34", false)]
    [InlineData("CC(C)CCCC(C)C1CCC2C1(CCC3C2CCC4C3(CCC(=O)C4)C)C", false)]
    [InlineData("O=C1CC2CCC1C2", false)]
    [InlineData("CC1(C)C2CCC1(C)C(=O)C2", false)]
    [InlineData("CC1=CC(=O)C2CC1C2(C)C", false)]
    [InlineData("CC1CCCCCCCCCCCCC(=O)C1", false)]
    [InlineData("CC(C)(C)c1cc(C=O)cc(C(C)(C)C)c1O", false)]
    [InlineData("[Na+].[O-]S(=O)(=O)c1ccccc1C=O", false)]
    [InlineData("OCC(O)C(O)C(O)C(O)C=O", false)]
    [InlineData("Cn1cnc2c1c(=O)n(C)c(=O)n2C", false)]
    [InlineData("CC(C)(C)C(=O)C(C)(C)C", false)]
    public void APictureCanBeReadBack(string smiles, bool mayCross)
    {
        Molecule molecule = SmilesReader.Read(smiles).Molecule!;
        Assert.Empty(DrawnStructure.Of(molecule, smiles).Faults(molecule, mayCross));
    }

    // Whatever is read is drawn, and in the time of a request; nothing is asked of its looks.
    [Theory]
    [InlineData("C12C3C4C1C5C4C3C25")]
    [InlineData("C1C2CC3CC1CC(C2)C3")]
    [InlineData("c1ccc2c(c1)ccc1ccc3ccc4ccc5ccccc5c4c3c12")]
    [InlineData("c1cc2cc3ccc([nH]3)cc3ccc([nH]3)cc3nc(cc1n2)C=C3")]
    [InlineData("[Fe](C)(C)(C)(C)(C)(C)(C)(C)C")]
    [InlineData("[He].[He]")]
    [InlineData("[H][H]")]
    [InlineData("C$C")]
    public void WhateverIsReadIsDrawnWhole(string smiles)
    {
        Molecule molecule = SmilesReader.Read(smiles).Molecule!;
        var drawn = DrawnStructure.Of(molecule, smiles);
        Assert.Equal(molecule.Atoms.Length, drawn.Atoms.Count);
        Assert.Equal(molecule.Bonds.Length, drawn.Bonds.Count);
        Assert.All(drawn.Atoms, atom => Assert.True(Complex.IsFinite(atom.Place)));
    }

    [Fact]
    public void MoreAtomsThanAreDrawnAreRefused()
    {
        Molecule molecule = SmilesReader.Read(new string('C', StructureDrawing.MostAtoms + 1)).Molecule!;
        var refusal = Assert.Throws<ArgumentException>(() => StructureDrawing.Svg(molecule, "a chain"));
        Assert.Contains("101", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void APictureTakesTheColourOfTheTextAndHasNoStylesAndNoScript()
    {
        var drawn = DrawnStructure.Of(SmilesReader.Read("CC(=O)Nc1ccccc1[N+](=O)[O-]").Molecule!, "<an & \"anilide\">");
        string[] allowed =
        [
            "xmlns", "role", "viewBox", "width", "height", "fill", "stroke", "stroke-width", "stroke-linecap", "font-family",
            "font-size", "text-anchor", "x", "y", "d", "data-bond", "data-atoms", "data-order", "data-atom", "data-symbol",
            "data-place",
        ];
        XElement[] elements = [.. drawn.Picture.DescendantsAndSelf()];
        Assert.Equal("<an & \"anilide\">", drawn.Title);
        Assert.All(elements, element => Assert.Contains(element.Name.LocalName, (string[])["svg", "title", "g", "path", "text", "tspan"]));
        Assert.All(elements.Attributes(), attribute => Assert.Contains(attribute.Name.LocalName, allowed));
        Assert.All(elements.Attributes("stroke"), stroke => Assert.Equal("currentColor", stroke.Value));
        Assert.All(elements.Attributes("fill"), fill => Assert.Contains(fill.Value, (string[])["currentColor", "none"]));
    }

    private static IEnumerable<int> Beside(DrawnStructure drawn, int atom) => drawn.Bonds
        .Where(bond => bond.First == atom || bond.Second == atom)
        .Select(bond => bond.First == atom ? bond.Second : bond.First);
}

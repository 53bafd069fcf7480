using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>What the notation means, rule by rule. Source: OpenSMILES specification 1.0, sections 3 and 4.</summary>
public sealed class SmilesReaderTests
{
    // Formulas worked out by hand.
    [Theory]
    [InlineData("C", "CH4")]
    [InlineData("N", "H3N")]
    [InlineData("CN(=O)=O", "CH3NO2")]
    [InlineData("P", "H3P")]
    [InlineData("OP(O)(O)=O", "H3O4P")]
    [InlineData("S", "H2S")]
    [InlineData("CS(C)=O", "C2H6OS")]
    [InlineData("CS(C)(=O)=O", "C2H6O2S")]
    [InlineData("B", "BH3")]
    [InlineData("Cl", "ClH")]
    [InlineData("OCl(=O)(=O)=O", "ClHO4")]
    public void HydrogensAreFilledToTheNextUsualValence(string smiles, string formula) =>
        AssertFormula(formula, smiles);

    [Theory]
    [InlineData("[C]", "C")]
    [InlineData("[CH4]", "CH4")]
    [InlineData("[CH3]", "CH3")]
    [InlineData("[OH-]", "HO")]
    [InlineData("[SeH2]", "H2Se")]
    [InlineData("[Na]", "Na")]
    public void BracketAtomsHaveTheHydrogensWritten(string smiles, string formula) => AssertFormula(formula, smiles);

    [Theory]
    [InlineData("[Fe+3]", 3)]
    [InlineData("[Fe+++]", 3)]
    [InlineData("[O-]", -1)]
    [InlineData("[O--]", -2)]
    [InlineData("[S-2]", -2)]
    [InlineData("[Na+].[Cl-]", 0)]
    [InlineData("[NH3+]CC([O-])=O", 0)]
    [InlineData("[C+0]", 0)]
    public void ChargesAreAddedUp(string smiles, int charge) => Assert.Equal(charge, Read(smiles).Charge);

    [Fact]
    public void IsotopeIsKeptOnTheAtomAndNotInTheFormula()
    {
        Molecule molecule = Read("[13CH3]C=O");
        Assert.Equal([13, null, null], molecule.Atoms.Select(atom => atom.Isotope));
        Assert.Equal("C2H4O", molecule.Formula.ToString());
    }

    [Theory]
    [InlineData("[H]C([H])([H])C(=O)[H]", 3)]
    [InlineData("[2H]C([2H])=O", 2)]
    [InlineData("[H][H]", 2)]
    [InlineData("[H+]", 1)]
    [InlineData("[H]O[H]", 1)]
    public void HydrogenAtomsAreCountedOnWhatCarriesThem(string smiles, int atomsLeft) =>
        Assert.Equal(atomsLeft, Read(smiles).Atoms.Length);

    [Theory]
    [InlineData("N[C@@H](C)C(=O)O")]
    [InlineData("N[C@H](C)C(=O)O")]
    [InlineData("N[C@TH1H](C)C(=O)O")]
    [InlineData("NC(C)C(=O)O")]
    public void ConfigurationChangesNothing(string smiles) => AssertFormula("C3H7NO2", smiles);

    [Theory]
    [InlineData("C[Pt@SP3](F)(Cl)Br", "CH3BrClFPt")]
    [InlineData("C[Co@OH30](F)(Cl)(Br)(I)N", "CH5BrClCoFIN")]
    [InlineData("C[As@TB20](F)(Cl)(Br)N", "CH5AsBrClFN")]
    [InlineData("CC=[C@AL2]=CC", "C5H8")]
    [InlineData("F/C=C/F", "C2H2F2")]
    [InlineData("F\\C=C/F", "C2H2F2")]
    public void OtherConfigurationsAreRead(string smiles, string formula) => AssertFormula(formula, smiles);

    [Theory]
    [InlineData("C1CCCCC1", "C6H12", 6)]
    [InlineData("C=1CCCCC1", "C6H10", 6)]
    [InlineData("C1CCCCC=1", "C6H10", 6)]
    [InlineData("C=1CCCCC=1", "C6H10", 6)]
    [InlineData("C%12CCCCC%12", "C6H12", 6)]
    [InlineData("C0CCCCC0", "C6H12", 6)]
    [InlineData("C%01CC1", "C3H6", 3)]
    [InlineData("C1CC1C1CC1", "C6H10", 6)]
    [InlineData("C1CC2CC1CC2", "C7H12", 8)]
    [InlineData("C1.C1", "C2H6", 0)]
    [InlineData("C12.C13.C23", "C3H6", 3)]
    public void RingClosuresJoinTheirTwoAtoms(string smiles, string formula, int ringBonds)
    {
        Molecule molecule = Read(smiles);
        Assert.Equal(formula, molecule.Formula.ToString());
        Assert.Equal(ringBonds, Enumerable.Range(0, molecule.Bonds.Length).Count(molecule.IsRingBond));
    }

    [Theory]
    [InlineData("CC(C)(C)C", "C5H12")]
    [InlineData("C(C(C(C)))C", "C5H12")]
    [InlineData("CC(=O)(O)", "C2H4O2")]
    [InlineData("C(.O)C", "C2H8O")]
    [InlineData("CCO.O", "C2H8O2")]
    public void BranchesAndDotsAreRead(string smiles, string formula) => AssertFormula(formula, smiles);

    [Theory]
    [InlineData("[Ga+]$[As-]", "AsGa")]
    [InlineData("C#C", "C2H2")]
    [InlineData("C-C", "C2H6")]
    public void BondSymbolsAreRead(string smiles, string formula) => AssertFormula(formula, smiles);

    [Theory]
    [InlineData("c1ccccc1", "C6H6", 1)]
    [InlineData("c:1:c:c:c:c:c:1", "C6H6", 1)]
    [InlineData("[cH]1[cH][cH][cH][cH][cH]1", "C6H6", 1)]
    [InlineData("C1=CC=CC=C1", "C6H6", 1)]
    [InlineData("c1=cc=cc=c1", "C6H6", 1)]
    [InlineData("c1ccc2ccccc2c1", "C10H8", 2)]
    [InlineData("C1=CC2=CC=CC=C2C=C1", "C10H8", 2)]
    [InlineData("c1ccccc1c1ccccc1", "C12H10", 2)]
    [InlineData("c1ccccc1-c1ccccc1", "C12H10", 2)]
    [InlineData("c1cc[nH]c1", "C4H5N", 1)]
    [InlineData("C1=CNC=C1", "C4H5N", 1)]
    [InlineData("Cn1cccc1", "C5H7N", 1)]
    [InlineData("c1ccncc1", "C5H5N", 1)]
    [InlineData("c1ccoc1", "C4H4O", 1)]
    [InlineData("C1=CSC=C1", "C4H4S", 1)]
    [InlineData("c1cc[se]c1", "C4H4Se", 1)]
    [InlineData("[o+]1ccccc1", "C5H5O", 1)]
    [InlineData("[cH-]1cccc1", "C5H5", 1)]
    [InlineData("O=n1ccccc1", "C5H5NO", 1)]
    [InlineData("O=c1ccc(=O)cc1", "C6H4O2", 0)]
    [InlineData("O=C1C=CC(=O)C=C1", "C6H4O2", 0)]
    [InlineData("O=c1cccccc1", "C7H6O", 0)]
    [InlineData("C1=CC=CC=CC=C1", "C8H8", 0)]
    [InlineData("C1=CC=CC1", "C5H6", 0)]
    [InlineData("O=C1C=CC(C)(C)C=C1", "C8H10O", 0)]
    [InlineData("c1ccc2cccc2cc1", "C10H8", 0)]
    public void AromaticRingsAreFoundInEitherCase(string smiles, string formula, int aromaticRings)
    {
        Molecule molecule = Read(smiles);
        Assert.Equal(formula, molecule.Formula.ToString());
        Assert.Equal(aromaticRings, molecule.AromaticRings.Length);
    }

    // C60 needs the matching to find its way around odd rings: every atom is in a five-membered one.
    [Fact]
    public void EveryAtomOfAFullereneGetsOneDoubleBond()
    {
        Molecule molecule = Read(ReferenceStructure.All.Single(row => row.Key == "buckminsterfullerene").Smiles);
        Assert.Equal(60, molecule.Atoms.Length);
        Assert.Equal(30, molecule.Bonds.Count(bond => bond.Order == 2));
    }

    [Fact]
    public void NeighboursAreSeenFromBothEnds()
    {
        Molecule molecule = Read("CC=O");
        Assert.Equal([1], molecule.NeighboursOf(0).Select(next => next.Atom));
        Assert.Equal([(0, 1), (2, 2)], molecule.NeighboursOf(1).Select(next => (next.Atom, next.Order)));
        Assert.Equal([3, 1, 0], molecule.Atoms.Select(atom => atom.Hydrogens));
    }

    private static void AssertFormula(string formula, string smiles) =>
        Assert.Equal(formula, Read(smiles).Formula.ToString());

    private static Molecule Read(string smiles)
    {
        SmilesReading reading = SmilesReader.Read(smiles);
        Assert.True(reading.IsRead, reading.Error?.ToString());
        return reading.Molecule;
    }
}

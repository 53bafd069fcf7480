using CsCheck;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

public sealed class MolecularFormulaTests
{
    // Published: CRC Handbook of Chemistry and Physics, "Physical Constants of Organic Compounds" (sodium chloride: of
    // inorganic ones), recalled. By hand: the abridged weights added up, for propanone 3 * 12.011 + 6 * 1.008 + 15.999.
    // The handbook starts from older, longer atomic weights (C 12.0107, H 1.00794, S 32.065, Cl 35.453), which is what
    // the tolerance against the published figure allows for.
    [Theory]
    [InlineData("H2O", 18.015, 18.015, 0.001)]
    [InlineData("CH4", 16.043, 16.043, 0.001)]
    [InlineData("C3H6O", 58.079, 58.080, 0.002)]
    [InlineData("C6H6", 78.112, 78.114, 0.003)]
    [InlineData("C7H6O", 106.122, 106.124, 0.003)]
    [InlineData("C8H8O", 120.149, 120.151, 0.003)]
    [InlineData("C6H6N4O4", 198.137, 198.138, 0.003)]
    [InlineData("C8H9NO2", 151.163, 151.165, 0.003)]
    [InlineData("C8H10N4O2", 194.191, 194.194, 0.004)]
    [InlineData("C12H22O11", 342.296, 342.297, 0.003)]
    [InlineData("ClNa", 58.443, 58.440, 0.004)]
    [InlineData("C7H5ClO", 140.567, 140.566, 0.004)]
    [InlineData("C7H5BrO", 185.018, 185.020, 0.003)]
    [InlineData("C4H4S", 84.140, 84.136, 0.006)]
    public void MolarMassIsThatOfTheHandbook(string formula, double published, double byHand, double tolerance)
    {
        double molarMass = MolecularFormula.Parse(formula).MolarMass;
        Assert.Equal(byHand, molarMass, 1e-9);
        Assert.Equal(published, molarMass, tolerance);
    }

    // Source of the order: E. A. Hill, J. Am. Chem. Soc. 1900, 22, 478.
    [Theory]
    [InlineData("OH2", "H2O")]
    [InlineData("ClNa", "ClNa")]
    [InlineData("NaCl", "ClNa")]
    [InlineData("H2SO4", "H2O4S")]
    [InlineData("C7H5OBr", "C7H5BrO")]
    [InlineData("ClHC2", "C2HCl")]
    [InlineData("O2C", "CO2")]
    [InlineData("HBr", "BrH")]
    public void TextIsInHillOrder(string written, string hill) =>
        Assert.Equal(hill, MolecularFormula.Parse(written).ToString());

    [Theory]
    [InlineData("", "1 to 200 characters, not 0")]
    [InlineData("c3H6O", "\"c\" at character 1")]
    [InlineData("C3 H6O", "\" \" at character 3")]
    [InlineData("3C", "\"3\" at character 1")]
    [InlineData("C0H4", "\"0\" at character 2")]
    [InlineData("C1H4", "\"1\" at character 2")]
    [InlineData("C03", "\"03\" at character 2")]
    [InlineData("C1000001", "\"1000001\" at character 2")]
    [InlineData("C99999999999999", "\"99999999999999\" at character 2")]
    [InlineData("Xx2", "\"Xx\" at character 1")]
    [InlineData("C2H5OH", "H comes again at character 6")]
    [InlineData("C6H5(NO2)", "\"(\" at character 5")]
    [InlineData("NH4+", "\"+\" at character 4")]
    [InlineData("C₂H₄", "\"₂\" at character 2")]
    [InlineData("Tc", "\"Tc\" at character 1")]
    public void NonsenseIsRefusedWithPlaceAndRule(string text, string named)
    {
        Assert.False(MolecularFormula.TryParse(text, out MolecularFormula? formula, out string? error));
        Assert.Null(formula);
        Assert.Contains(named, error, StringComparison.Ordinal);
        ArgumentException refusal = Assert.Throws<ArgumentException>(() => MolecularFormula.Parse(text));
        Assert.Contains(named, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void NullAndLongTextAreRefused()
    {
        Assert.False(MolecularFormula.TryParse(null, out _, out _));
        Assert.False(MolecularFormula.TryParse(new string('C', 201), out _, out string? error));
        Assert.Contains("not 201", error, StringComparison.Ordinal);
    }

    // Propanone + 2,4-dinitrophenylhydrazine - water, added up by hand: C3H6O + C6H6N4O4 - H2O = C9H10N4O4.
    [Fact]
    public void CondensationIsWrittenAsASum()
    {
        MolecularFormula product =
            MolecularFormula.Parse("C3H6O") + (1 * MolecularFormula.Parse("C6H6N4O4")) - (1 * MolecularFormula.Water);
        Assert.Equal("C9H10N4O4", product.ToString());
    }

    // Butane-2,3-dione dioxime (dimethylglyoxime): C4H6O2 + 2 NH2OH - 2 H2O = C4H8N2O2.
    [Fact]
    public void TwofoldCondensationIsWrittenAsASum() => Assert.Equal(
        "C4H8N2O2",
        (MolecularFormula.Parse("C4H6O2") + (2 * MolecularFormula.Parse("H3NO")) - (MolecularFormula.Water * 2))
            .ToString());

    [Fact]
    public void TakingAwayMoreThanThereIsIsRefused()
    {
        ArgumentException refusal = Assert.Throws<ArgumentException>(
            () => MolecularFormula.Parse("CH4") - MolecularFormula.Water);
        Assert.Contains("-1 atoms of O", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void NegativeMultipleIsRefused() =>
        Assert.Throws<ArgumentException>(() => -1 * MolecularFormula.Water);

    [Fact]
    public void CountsAboveTheBoundAreRefused() =>
        Assert.Throws<ArgumentException>(() => int.MaxValue * MolecularFormula.Water);

    [Fact]
    public void NothingTakenIsEmpty()
    {
        Assert.Equal(MolecularFormula.Empty, 0 * MolecularFormula.Water);
        Assert.Equal("", MolecularFormula.Empty.ToString());
        Assert.Equal(0, MolecularFormula.Empty.MolarMass);
    }

    [Fact]
    public void EqualityIsByCounts()
    {
        Assert.True(MolecularFormula.Parse("H2O") == MolecularFormula.Parse("OH2"));
        Assert.True(MolecularFormula.Parse("H2O") != MolecularFormula.Parse("H2O2"));
        Assert.Equal(MolecularFormula.Parse("H2O").GetHashCode(), MolecularFormula.Water.GetHashCode());
        Assert.False(MolecularFormula.Water.Equals(null));
    }

    [Fact]
    public void CountsAreReadable()
    {
        MolecularFormula formula = MolecularFormula.Parse("C7H5BrO");
        Assert.Equal(7, formula.CountOf("C"));
        Assert.Equal(0, formula.CountOf("N"));
        Assert.Equal(["Br", "C", "H", "O"], formula.Counts.Keys);
    }

    [Fact]
    public void TextReadsBackToTheSameFormula() => Formulas.Sample(formula =>
        Assert.Equal(formula, MolecularFormula.Parse(formula.ToString())));

    [Fact]
    public void SubtractionUndoesAddition() => Gen.Select(Formulas, Formulas).Sample((left, right) =>
    {
        Assert.Equal(left, left + right - right);
        Assert.Equal(left + right, right + left);
        Assert.Equal(left.MolarMass + right.MolarMass, (left + right).MolarMass, 1e-6);
    });

    private static Gen<MolecularFormula> Formulas =>
        Gen.Select(Gen.OneOf([.. StandardAtomicWeights.Symbols]), Gen.Int[1, 500])
            .Array[1, 8]
            .Select(pairs => pairs.Select(pair => KeyValuePair.Create(pair.Item1, pair.Item2)))
            .Select(MolecularFormula.FromCounts);
}

using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

/// <summary>The law of Schröder and van Laar against sums and measurements that were published, each with its source.</summary>
public sealed class IdealLiquidusTests
{
    private const double Zero = 273.15;

    /// <summary>
    /// Lee and Warner, J. Am. Chem. Soc. 1935, 57, 318, naphthalene and biphenyl, in the IUPAC-NIST Solubility Database: mole fraction
    /// of naphthalene and where the last crystal goes. Units: K. Up to the eutectic, 0.445, biphenyl's go last.
    /// </summary>
    public static TheoryData<double, double> NaphthaleneInBiphenyl => new()
    {
        { 0.102, 336.7 },
        { 0.194, 331.0 },
        { 0.300, 323.5 },
        { 0.400, 316.1 },
        { 0.500, 318.6 },
        { 0.551, 322.8 },
        { 0.600, 326.8 },
        { 0.697, 334.3 },
        { 0.770, 339.3 },
    };

    // Melting points of that table; enthalpies of fusion of the CRC Handbook.
    private static readonly (double Joules, double Celsius) Naphthalene = (19_010, 353.3 - Zero);
    private static readonly (double Joules, double Celsius) Biphenyl = (18_570, 342.2 - Zero);

    /// <summary>
    /// Source: article on the enthalpy of fusion (encyclopedia, stored copy): paracetamol, 28 100 J/mol, 442 K, at 298 K:
    /// exp[−28100/8.314 (1/298 − 1/442)] = 0.0248. Only ΔH/R enters, so its R of 8.314 is put into ΔH.
    /// </summary>
    [Fact]
    public void ParacetamolComesToItsPrintedMoleFraction() =>
        Assert.Equal(0.0248, IdealLiquidus.MoleFraction(28_100 * 8.314462618 / 8.314, 442 - Zero, 298 - Zero), tolerance: 0.00005);

    /// <summary>
    /// Source: sarthaks.com, question 1719326: naphthalene, 19 000 J/mol, 80.2 °C, first crystals at 76.2 °C, by the linear law: 0.929.
    /// The whole law gives 0.9286 of the same figures, by hand.
    /// </summary>
    [Fact]
    public void NaphthaleneComesToItsPrintedMoleFractionByTheLinearLaw()
    {
        Assert.Equal(0.929, IdealLiquidus.LinearMoleFraction(19_000, 80.2, 76.2), tolerance: 0.0005);
        Assert.Equal(0.9286, IdealLiquidus.MoleFraction(19_000, 80.2, 76.2), tolerance: 0.0001);
    }

    /// <summary>
    /// Source: OpenStax, Chemistry 2e, section 11.4: what dissolves 0.33 mol in a kg of benzene lowers it by 1.7 °C, from 5.5 to 3.8 °C, by
    /// its printed constant of 5.12 °C kg/mol. Independent of that constant: the enthalpy of fusion, 9.87 kJ/mol by the CRC Handbook.
    /// </summary>
    [Fact]
    public void BenzeneFreezesWherePrinted()
    {
        var fraction = (1 / 0.07811) / ((1 / 0.07811) + 0.33);

        Assert.Equal(fraction, IdealLiquidus.LinearMoleFraction(9_870, 5.5, 3.8), tolerance: 0.0008);
        Assert.Equal(3.8, IdealLiquidus.Celsius(9_870, 5.5, fraction), tolerance: 0.05);
    }

    /// <summary>
    /// Cryoscopic constants printed against R T² M/ΔH of the CRC Handbook's enthalpies, which is what the tangent comes to for little
    /// dissolved. Sources: OpenStax, Chemistry 2e, section 11.4, benzene 5.12 °C kg/mol; a laboratory exercise of the University of Nairobi,
    /// benzophenone 8.7, freezing at 47.8 °C.
    /// </summary>
    [Theory]
    [InlineData(9_870, 5.5, 0.07811, 5.12, 0.02)]
    [InlineData(18_190, 47.8, 0.18222, 8.7, 0.15)]
    public void LittleDissolvedLowersByThePrintedConstant(double joules, double celsius, double kilogramsPerMole, double printed, double tolerance)
    {
        const double MolesPerKilogram = 1e-4;
        var fraction = 1 / (1 + (MolesPerKilogram * kilogramsPerMole));

        Assert.Equal(printed, (celsius - IdealLiquidus.Celsius(joules, celsius, fraction)) / MolesPerKilogram, tolerance);
    }

    /// <summary>
    /// Source: IUPAC-NIST Solubility Database, naphthalene in benzene (W. E. Acree): 0.2946 and 0.292 measured at 298 K, 0.2974 fitted;
    /// solubility in what it mixes with nearly ideally. The ideal law of CRC's enthalpy is 1 % high.
    /// </summary>
    [Fact]
    public void NaphthaleneInBenzeneIsNearlyIdeal() =>
        Assert.InRange(IdealLiquidus.MoleFraction(Naphthalene.Joules, 353.35 - Zero, 298 - Zero) / 0.2974, 1.0, 1.02);

    /// <summary>The ideal law of these figures lies from 0.1 K below what was measured to 1.4 K above.</summary>
    [Theory]
    [MemberData(nameof(NaphthaleneInBiphenyl))]
    public void MeasuredMeltsOfNaphthaleneAndBiphenylAreNearlyIdeal(double naphthalene, double kelvin)
    {
        var ideal = naphthalene < 0.445
            ? IdealLiquidus.Celsius(Biphenyl.Joules, Biphenyl.Celsius, 1 - naphthalene)
            : IdealLiquidus.Celsius(Naphthalene.Joules, Naphthalene.Celsius, naphthalene);

        Assert.InRange(ideal + Zero - kelvin, -0.1, 1.4);
    }

    /// <summary>The same table's eutectic: 312.8 K at 0.445. Where the two ideal lines cross.</summary>
    [Fact]
    public void TheTwoLinesCrossNearTheMeasuredEutectic()
    {
        var (low, high) = (0.0, 1.0);
        for (var turn = 0; turn < 60; turn++)
        {
            var middle = (low + high) / 2;
            (low, high) = IdealLiquidus.Celsius(Naphthalene.Joules, Naphthalene.Celsius, middle)
                < IdealLiquidus.Celsius(Biphenyl.Joules, Biphenyl.Celsius, 1 - middle) ? (middle, high) : (low, middle);
        }

        Assert.Equal(0.445, low, tolerance: 0.01);
        Assert.Equal(312.8, IdealLiquidus.Celsius(Naphthalene.Joules, Naphthalene.Celsius, low) + Zero, tolerance: 1.5);
    }

    [Theory]
    [InlineData(9_000, 48)]
    [InlineData(19_010, 80.26)]
    [InlineData(45_000, 237)]
    public void ThereAndBackIsTheSameAndNoDepressionIsNoImpurity(double joules, double celsius)
    {
        Assert.Equal(1, IdealLiquidus.MoleFraction(joules, celsius, celsius), 1e-12);
        Assert.Equal(1, IdealLiquidus.LinearMoleFraction(joules, celsius, celsius), 1e-12);
        var last = 1.0;
        for (var fraction = 0.99; fraction > 0.3; fraction -= 0.05)
        {
            var clear = IdealLiquidus.Celsius(joules, celsius, fraction);
            Assert.Equal(fraction, IdealLiquidus.MoleFraction(joules, celsius, clear), 1e-10);
            Assert.True(clear < celsius);
            Assert.True(IdealLiquidus.MoleFraction(joules, celsius, clear) < last);
            last = IdealLiquidus.MoleFraction(joules, celsius, clear);
            // The tangent lies above the curve: by it less impurity is told.
            Assert.True(IdealLiquidus.LinearMoleFraction(joules, celsius, clear) > fraction);
        }
    }

    [Fact]
    public void MoreEnthalpyMeansMoreImpurityOfTheSameDepression() =>
        Assert.True(IdealLiquidus.MoleFraction(30_000, 120, 115) < IdealLiquidus.MoleFraction(15_000, 120, 115));
}

using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class IdealEutecticTests
{
    private const double ZeroCelsius = 273.15;

    // Melting points as in the table of the same source, enthalpies of fusion 19.01 and 18.57 kJ/mol: CRC Handbook.
    private static readonly PureSolid Naphthalene = Solid(353.3, 19.01);
    private static readonly PureSolid Biphenyl = Solid(342.2, 18.57);

    /// <summary>
    /// Measured: H. H. Lee and J. C. Warner, J. Am. Chem. Soc. 57 (1935) 318, as in the IUPAC-NIST Solubility Database. The
    /// tolerance is what the law is good for, 2.5 K (K. Karunakaran, J. Solution Chem. 10 (1981) 431), less a margin.
    /// </summary>
    [Theory]
    [InlineData(0.102, 336.7)]
    [InlineData(0.194, 331.0)]
    [InlineData(0.300, 323.5)]
    [InlineData(0.400, 316.1)]
    [InlineData(0.500, 318.6)]
    [InlineData(0.551, 322.8)]
    [InlineData(0.600, 326.8)]
    [InlineData(0.697, 334.3)]
    [InlineData(0.770, 339.3)]
    public void ClearPointOfNaphthaleneWithBiphenyl(double moleFraction, double measuredKelvin)
    {
        var clear = IdealEutectic.ClearPointCelsius(Naphthalene, Biphenyl, moleFraction) + ZeroCelsius;

        Assert.Equal(measuredKelvin, clear, 1.5);
    }

    [Fact]
    public void EutecticOfNaphthaleneWithBiphenyl()
    {
        // Lee and Warner, as above: 312.8 K at 0.445 naphthalene.
        var (celsius, moleFraction) = IdealEutectic.Of(Naphthalene, Biphenyl);

        Assert.Equal(312.8, celsius + ZeroCelsius, 1.5);
        Assert.Equal(0.445, moleFraction, 0.01);
    }

    [Fact]
    public void LiquidusOfNaphthaleneAtItsEutecticWithAnthracene()
    {
        // Measured: 350.8 K at 6.2 mol % anthracene, "Binary phase diagrams of some molecular compounds I", abstract; a slight
        // solid solution lies the measured point a little higher than the law.
        Assert.Equal(350.8, IdealEutectic.LiquidusCelsius(Naphthalene, 1 - 0.062) + ZeroCelsius, 1.2);
    }

    [Fact]
    public void LiquidusOfNaphthaleneWithDiphenylamine()
    {
        // Measured: 68.0 °C at 24.1 % by mass of diphenylamine (169.22 g/mol; naphthalene 128.17), Roloff as in Timmermans; the
        // table scatters by 1 to 2 °C.
        var naphthalene = 75.9 / 128.17;
        var moleFraction = naphthalene / (naphthalene + (24.1 / 169.22));

        Assert.Equal(68.0, IdealEutectic.LiquidusCelsius(Naphthalene, moleFraction), 1.0);
    }

    [Fact]
    public void LiquidusOfParacetamolAtItsPrintedMoleFraction()
    {
        // Worked example (encyclopedia, article on the enthalpy of fusion): 442 K, 28100 J/mol, 0.0248 at 298 K, printed to 0.2 % of
        // itself or 0.05 K.
        Assert.Equal(298, IdealEutectic.LiquidusCelsius(Solid(442, 28.1), 0.0248) + ZeroCelsius, 0.1);
    }

    [Fact]
    public void PureCompoundMeltsAtItsMeltingPoint() =>
        Assert.Equal(80.15, IdealEutectic.LiquidusCelsius(Naphthalene, 1), 1e-9);

    [Fact]
    public void EutecticIsTheLowestClearPoint()
    {
        var (celsius, moleFraction) = IdealEutectic.Of(Naphthalene, Biphenyl);

        for (var x = 0.01; x < 1; x += 0.01)
        {
            Assert.True(IdealEutectic.ClearPointCelsius(Naphthalene, Biphenyl, x) >= celsius - 1e-9, $"{x} against {moleFraction}");
        }
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1.01)]
    [InlineData(double.NaN)]
    public void MoleFractionOutOfBoundsIsRefused(double moleFraction) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => IdealEutectic.LiquidusCelsius(Naphthalene, moleFraction));

    private static PureSolid Solid(double kelvin, double kilojoulesPerMole) =>
        new(kelvin - ZeroCelsius, kilojoulesPerMole * 1000 / kelvin);
}

using Derivid.Core.Melting;

namespace Derivid.Core.Tests.Melting;

public sealed class PressureCorrectionTests
{
    [Fact]
    public void StandardPressureChangesNothingWorthReading() =>
        Assert.Equal(80.1, PressureCorrection.ToStandard(80.1, 101.325), 0.001);

    [Fact]
    public void AgreesWithTheVapourPressureOfBenzene()
    {
        // Source: Antoine constants of benzene, A 6.90565, B 1211.033, C 220.790 (mmHg, °C), as in Lange's Handbook of
        // Chemistry; recalled. log10 p = A − B/(C + t) gives t = 79.236 °C at 740 mmHg and 80.099 °C at 760 mmHg.
        static double Boils(double millimetres) => (1211.033 / (6.90565 - Math.Log10(millimetres))) - 220.790;

        var corrected = PressureCorrection.ToStandard(Boils(740), 740 / 7.50062);

        // Crafts's factor is a rule for many liquids, good to a few hundredths of a degree at 20 mmHg for this one.
        Assert.Equal(Boils(760), corrected, 0.03);
    }

    [Fact]
    public void RangeKeepsItsOrder()
    {
        var corrected = PressureCorrection.ToStandard(new MeltingRange(54, 56), 95);

        Assert.True(corrected.OnsetCelsius < corrected.ClearPointCelsius);
        Assert.True(corrected.OnsetCelsius > 54);
    }
}

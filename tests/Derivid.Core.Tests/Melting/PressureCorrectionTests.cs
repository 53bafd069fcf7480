using System.Globalization;
using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Core.Tests.Melting;

public sealed class PressureCorrectionTests
{
    /// <summary>Hydrogen bonds hold their liquids together; the correction knows no structure.</summary>
    private static readonly string[] Acids = ["2-oxopropanoic-acid", "4-oxopentanoic-acid"];

    private static readonly List<Boiling> Published = Read();

    public static TheoryData<double> Pressures => [.. Published.Select(row => row.Kilopascals).Distinct().Order()];

    [Theory]
    [InlineData(-180)]
    [InlineData(20)]
    [InlineData(80.1)]
    [InlineData(430)]
    public void StandardPressureChangesNothing(double celsius) =>
        Assert.Equal(celsius, PressureCorrection.ToStandard(celsius, 101.325), 1e-9);

    [Fact]
    public void AgreesWithTheVapourPressureOfBenzene()
    {
        // Source: Antoine constants of benzene, A 6.90565, B 1211.033, C 220.790 (mmHg, °C), as in Lange's Handbook of
        // Chemistry; recalled. log10 p = A − B/(C + t) gives t = 79.236 °C at 740 mmHg and 80.099 °C at 760 mmHg.
        static double Boils(double millimetres) => (1211.033 / (6.90565 - Math.Log10(millimetres))) - 220.790;

        var corrected = PressureCorrection.ToStandard(Boils(740), 740 / 7.50062);

        Assert.Equal(Boils(760), corrected, 0.06);
    }

    /// <summary>Acetophenone by hand, Tb 202 °C = 475.15 K at 77.7 °C = 350.85 K.</summary>
    /// <remarks>
    /// θ = 0.73840, 3 − 2θ = 1.52320, ln θ = −0.30327; bracket 1 − 1.08323/0.73840 + 0.38 · 0.71116 · 0.30327 = −0.38505;
    /// factor 1.06 · (8.75 + 1.987 · 6.16363) / (0.97 · 1.987) = 11.5478; ln P = −4.4465, P = 0.011720 atm = 1.1875 kPa.
    /// </remarks>
    [Fact]
    public void AcetophenoneIsWorkedByHand() =>
        Assert.Equal(202.0, PressureCorrection.ToStandard(77.7, 1.1875), 0.02);

    /// <summary>Boiling points that were printed beside their pressure, none of them from the constants below.</summary>
    /// <remarks>
    /// Sources: OpenStax, Chemistry 2e, section 10.3 (benzene in Denver, 83.4 kPa: 346.9 K = 73.8 °C; at 101.3 kPa 80.1 °C); CRC Handbook,
    /// dependence of the boiling point on pressure (benzaldehyde 0.392, acetone 0.289, acetaldehyde 0.261 °C/kPa, good to 0.2 °C within a
    /// tenth of an atmosphere; here at 95 kPa); a handbook digitised by TIB Hannover (benzaldehyde 111.8 °C at 100 mmHg, 178.1 at 760);
    /// P. Monk, Physical Chemistry, p. 187 (of 200 °C "halved to 100 °C" near 20 mmHg, read off a nomograph, to 10 °C). The correction may be
    /// out by twice its own stated error besides.
    /// </remarks>
    [Theory]
    [InlineData(73.8, 83.4, 80.1, 0.1)]
    [InlineData(179.0 - (0.392 * 6.325), 95, 179.0, 0.2)]
    [InlineData(56.0 - (0.289 * 6.325), 95, 56.0, 0.2)]
    [InlineData(20.1 - (0.261 * 6.325), 95, 20.1, 0.2)]
    [InlineData(111.8, 13.332, 178.1, 0.5)]
    [InlineData(100, 2.666, 200, 10)]
    public void PrintedBoilingPointsComeOutWithinTheStatedError(double celsius, double kilopascals, double normalCelsius, double printedError) =>
        Assert.Equal(
            normalCelsius, PressureCorrection.ToStandard(celsius, kilopascals), printedError + (2 * PressureCorrection.ErrorCelsius(kilopascals)));

    /// <summary>Source: beside each value; constants from five published collections, evaluated by the script in the folder.</summary>
    [Fact]
    public void PublishedPressuresAreOfManyCompounds()
    {
        Assert.Equal(900, Published.Count);
        Assert.Equal(79, Published.Select(row => row.ParentKey).Distinct().Count());
        Assert.Equal(48, Misses(0.2).Count);
    }

    [Theory]
    [MemberData(nameof(Pressures))]
    public void ErrorIsWhatPublishedPressuresShow(double kilopascals)
    {
        var misses = Misses(kilopascals);
        var scatter = Math.Sqrt(misses.Average(miss => miss * miss));

        Assert.InRange(Math.Abs(misses.Average()), 0, 1.2);
        Assert.True(PressureCorrection.ErrorCelsius(kilopascals) >= 0.88 * scatter, $"{scatter}");
        if (kilopascals is >= 0.2 and < 101)
        {
            Assert.True(PressureCorrection.ErrorCelsius(kilopascals) <= 1.12 * scatter, $"{scatter}");
        }
    }

    /// <summary>Boiling points that print far apart at 1.3 kPa come out together; the figures say how nearly.</summary>
    [Fact]
    public void HalfOfAllCompoundsComeOutWithinThreeDegreesAtAnyPressure() =>
        Assert.All(Pressures, pressure => Assert.InRange(Median(Misses(pressure.Data).Select(Math.Abs)), 0, 3.1));

    [Fact]
    public void NoJumpOnTheWayDown()
    {
        for (var kilopascals = 110.0; kilopascals > BoilingPointReading.LowestKilopascals; kilopascals *= 0.99)
        {
            foreach (var celsius in (double[])[-100, 20, 150, 300, 450])
            {
                var step = PressureCorrection.ToStandard(celsius, kilopascals * 0.99)
                    - PressureCorrection.ToStandard(celsius, kilopascals);
                Assert.InRange(step, 1e-3, 1.0);
            }
        }
    }

    [Theory]
    [InlineData(0.1)]
    [InlineData(1.333)]
    [InlineData(20.0)]
    [InlineData(59.9)]
    [InlineData(60.1)]
    [InlineData(84.0)]
    [InlineData(110.0)]
    public void HigherReadingBoilsHigherAtStandardPressure(double kilopascals)
    {
        for (var celsius = MeltingRange.LowestCelsius; celsius < MeltingRange.HighestCelsius; celsius++)
        {
            var step = PressureCorrection.ToStandard(celsius + 1, kilopascals) - PressureCorrection.ToStandard(celsius, kilopascals);
            Assert.InRange(step, 0.9, 1.9);
        }
    }

    [Fact]
    public void ErrorGrowsAsThePressureFalls()
    {
        Assert.Equal(0, PressureCorrection.ErrorCelsius(101.325));
        Assert.InRange(PressureCorrection.ErrorCelsius(98), 0.01, 0.1);
        Assert.True(PressureCorrection.ErrorCelsius(110) > 0);
        for (var kilopascals = 101.0; kilopascals > 0.1; kilopascals *= 0.9)
        {
            Assert.True(PressureCorrection.ErrorCelsius(kilopascals * 0.9) > PressureCorrection.ErrorCelsius(kilopascals));
        }
    }

    [Theory]
    [InlineData(95.0)]
    [InlineData(1.333)]
    public void RangeKeepsItsOrder(double kilopascals)
    {
        var corrected = PressureCorrection.ToStandard(new MeltingRange(54, 56), kilopascals);

        Assert.True(corrected.OnsetCelsius < corrected.ClearPointCelsius);
        Assert.True(corrected.OnsetCelsius > 54);
    }

    [Fact]
    public void RangeEndsAtTheHighestTemperatureTaken() =>
        Assert.Equal(
            new MeltingRange(MeltingRange.HighestCelsius, MeltingRange.HighestCelsius),
            PressureCorrection.ToStandard(new MeltingRange(300, 310), 0.1));

    private static List<double> Misses(double kilopascals) =>
    [
        .. Published
            .Where(row => row.Kilopascals == kilopascals && !Acids.Contains(row.ParentKey))
            .Select(row => PressureCorrection.ToStandard(row.Celsius, kilopascals) - row.NormalCelsius),
    ];

    private static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToList();
        return sorted[sorted.Count / 2];
    }

    private static List<Boiling> Read()
    {
        var lines = File.ReadAllLines(
            Path.Combine(AppContext.BaseDirectory, "reference-values", "boiling-points", "vapour-pressures.csv"));
        Assert.Equal("parent_key,cas_number,kilopascals,celsius,normal_celsius,source", lines[0]);
        return
        [
            .. lines.Skip(1).Select(line => line.Split(',')).Select(cells => new Boiling(
                cells[0], Number(cells[2]), Number(cells[3]), Number(cells[4]))),
        ];
    }

    private static double Number(string cell) => double.Parse(cell, CultureInfo.InvariantCulture);

    private sealed record Boiling(string ParentKey, double Kilopascals, double Celsius, double NormalCelsius);
}

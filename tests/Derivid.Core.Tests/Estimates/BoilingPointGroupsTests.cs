using System.Globalization;
using Derivid.Core.Estimates;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Estimates;

public sealed class BoilingPointGroupsTests
{
    /// <summary>Furans, whose oxygen is counted otherwise here on purpose.</summary>
    private static readonly string[] Furans = ["98-01-1", "620-02-0", "698-63-5", "1192-62-7"];

    /// <summary>
    /// Source: boiling-point test set of the program MPBPWIN, column "BP estimate" (Adapted Stein and Brown Method), as
    /// kept in USEtox/PyEPISuite; structures are ours. The program's own increments carry four decimals or more.
    /// </summary>
    [Fact]
    public void GroupsAddUpToTheEstimatesOfAnotherProgram()
    {
        var rows = Rows();
        var off = rows
            .Select(row => (row.Cas, Gap: BoilingPointGroups.CelsiusOf(Read(row.Smiles))!.Value - row.Celsius))
            .Where(row => Math.Abs(row.Gap) > 0.06)
            .ToList();

        Assert.Equal(218, rows.Count);
        Assert.Equivalent(Furans, off.Select(row => row.Cas), strict: true);
        Assert.All(off, row => Assert.InRange(row.Gap, 13, 17));
    }

    /// <summary>
    /// Anisole by hand: 198.18 + 21.98 + 5 · 28.53 + 30.76 + 25.16 = 418.73 K, corrected to
    /// −94.84 + 1.5577 · 418.73 − 0.0007705 · 418.73² = 422.32 K, 149.17 °C. Source: MPBPWIN 1.43 prints 149.16 °C for it.
    /// </summary>
    [Fact]
    public void AnisoleIsWorkedByHand() =>
        Assert.Equal(149.17, BoilingPointGroups.CelsiusOf(Read("COc1ccccc1"))!.Value, 0.02);

    [Theory]
    [InlineData("C[Si](C)(C)C")]
    [InlineData("CC(=O)C=[N+]=[N-]")]
    [InlineData("CC=NO")]
    [InlineData("CC(=O)OC(C)=O")]
    [InlineData("C=C=C")]
    public void StructureOutsideTheGroupsHasNoEstimate(string smiles) =>
        Assert.Null(BoilingPointGroups.CelsiusOf(Read(smiles)));

    [Fact]
    public void LargeMoleculeTakesTheFlatterCorrection()
    {
        // Beyond a sum of 700 K each CH2 adds 24.22 · 0.4791 K.
        var (shorter, longer) = (Celsius(24), Celsius(30));

        Assert.Equal(6 * 24.22 * 0.4791, longer - shorter, 1e-9);

        static double Celsius(int carbons) => BoilingPointGroups.CelsiusOf(Read(new string('C', carbons)))!.Value;
    }

    private static Molecule Read(string smiles) => SmilesReader.Read(smiles).Molecule!;

    private static List<(string Cas, string Smiles, double Celsius)> Rows()
    {
        var lines = File.ReadAllLines(Path.Combine(AppContext.BaseDirectory, "reference-values/boiling-points/mpbpwin-estimates.csv"));
        Assert.Equal("cas_number,smiles,estimate_celsius", lines[0]);
        return
        [
            .. lines.Skip(1).Select(line => line.Split(',')).Select(cells =>
                (cells[0], cells[1], double.Parse(cells[2], CultureInfo.InvariantCulture))),
        ];
    }
}

using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

public sealed class TableExtentTests
{
    private const string Dnph = "2-4-dinitrophenylhydrazone";

    [Fact]
    public void AtLeastHundredFiftyParentsHaveTheFirstDerivative() =>
        Assert.InRange(
            Table.Derivatives.Where(derivative => derivative.KindKey == Dnph)
                .Select(derivative => derivative.ParentKey).Distinct().Count(),
            150,
            int.MaxValue);

    /// <summary>Bounds are what the table has, rounded down; the log tells the figures.</summary>
    [Fact]
    public void ExtentIsThatOfTheReadme()
    {
        var read = Table.Derivatives.Count(derivative => derivative.Verification != Verification.Recalled);
        var share = (double)read / Table.Derivatives.Count;

        TestContext.Current.TestOutputHelper?.WriteLine(FormattableString.Invariant(
            $"{Table.Kinds.Count} kinds, {Table.Parents.Count} parents, {Table.Derivatives.Count} records, {read} read or cross-checked ({100 * share:0.0} %)"));
        Assert.InRange(Table.Kinds.Count, 10, int.MaxValue);
        Assert.InRange(Table.Parents.Count, 260, int.MaxValue);
        Assert.InRange(Table.Derivatives.Count, 1_300, int.MaxValue);
        Assert.InRange(share, 0.30, 1);
        Assert.Empty(Table.Kinds.Select(kind => kind.Key).Except(Table.Derivatives.Select(derivative => derivative.KindKey)));
    }

    /// <summary>Chosen: what a student is given has twenty atoms besides hydrogen at most.</summary>
    [Fact]
    public void EveryParentIsOfBenchSize() =>
        Assert.All(Table.Parents, parent => Assert.InRange(SmilesReader.Read(parent.Smiles).Molecule!.Atoms.Length, 1, 20));

    [Fact]
    public void RowCountsAreThoseOfTheManifest()
    {
        var rows = SeedFolder.Manifest().Files.ToDictionary(file => file.File, file => file.Rows);

        Assert.Equal(rows[RecordKinds.Sources.FileName], Table.Sources.Count);
        Assert.Equal(rows[RecordKinds.Parents.FileName], Table.Parents.Count);
        Assert.Equal(rows[RecordKinds.ParentConstants.FileName], Table.Constants.Count);
        Assert.Equal(rows[RecordKinds.DerivativeKinds.FileName], Table.Kinds.Count);
        Assert.Equal(rows[RecordKinds.Derivatives.FileName], Table.Derivatives.Count);
        Assert.Equal(rows[RecordKinds.SpotTestQuestions.FileName], Table.Questions.Count);
        Assert.Equal(rows[RecordKinds.SpotTests.FileName], Table.SpotTests.Count);
        Assert.Equal(rows[RecordKinds.SpotTestResponses.FileName], Table.Responses.Count);
        Assert.Equal(rows[RecordKinds.Colours.FileName], Table.Colours.Count);
        Assert.Equal(rows[RecordKinds.ColourExpectations.FileName], Table.ColourExpectations.Count);
        Assert.Equal(rows[RecordKinds.MeltingPointStandards.FileName], Table.Standards.Count);
        Assert.Equal(rows[LeftOut.File.FileName], SeedFolder.Read(LeftOut.File).Count);
    }

    [Fact]
    public void ColumnSumsAreThoseOfTheManifest()
    {
        var files = SeedFolder.Manifest().Files.ToDictionary(file => file.File, file => file.ColumnSums);

        Assert.Equal(
            files[RecordKinds.Derivatives.FileName]["low_celsius"],
            Table.Derivatives.Sum(derivative => derivative.LowCelsius),
            1e-6);
        Assert.Equal(
            files[RecordKinds.Derivatives.FileName]["high_celsius"],
            Table.Derivatives.Sum(derivative => derivative.HighCelsius),
            1e-6);
        Assert.Equal(
            files[RecordKinds.Parents.FileName]["molar_mass"],
            Table.Parents.Sum(parent => parent.MolarMass),
            1e-6);
        Assert.Equal(
            files[RecordKinds.ParentConstants.FileName]["low"],
            Table.Constants.Sum(constant => constant.Low),
            1e-6);
        Assert.Equal(
            files[RecordKinds.SpotTestResponses.FileName]["positive_rate"],
            Table.Responses.Sum(response => response.PositiveRate),
            1e-6);
    }

    /// <summary>
    /// The pairs every identification course meets. Source: usual handbook values, recalled; the semicarbazone of
    /// propanone is listed at 187 and at 190.
    /// </summary>
    [Theory]
    [InlineData("propanone", Dnph, 126)]
    [InlineData("propanone", "semicarbazone", 187)]
    [InlineData("propanone", "semicarbazone", 190)]
    [InlineData("3-3-dimethylbutan-2-one", Dnph, 125)]
    [InlineData("benzaldehyde", Dnph, 237)]
    [InlineData("acetophenone", Dnph, 238)]
    public void WellKnownValueIsListed(string parentKey, string kindKey, double celsius) =>
        Assert.Contains(Table.Derivatives, derivative => derivative.ParentKey == parentKey
            && derivative.KindKey == kindKey
            && derivative.LowCelsius == celsius);
}

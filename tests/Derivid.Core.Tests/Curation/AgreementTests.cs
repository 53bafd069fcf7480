using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What is said when two sources give the same thing, and when they don't.</summary>
public sealed class AgreementTests
{
    private const string First = "propanone-semicarbazone";
    private const string Second = "propanone-semicarbazone-other-journal";
    private const string State = nameof(Compounds.Derivative.Verification);
    private const string Gap = nameof(Compounds.Derivative.LowCelsius);

    [Theory]
    [InlineData(191, true)]
    [InlineData(185, true)]
    [InlineData(191.1, false)]
    [InlineData(184.9, false)]
    public void SourceOfAnotherFamilyWithinThreeDegreesConfirms(double celsius, bool confirms)
    {
        var table = With(celsius);
        var crossChecked = CrossChecked(table);

        Assert.Equal(confirms ? [$"{First} {State}", $"{Second} {State}"] : [], Said(table));
        Assert.Equal(confirms ? [] : [$"{First} {State}", $"{Second} {State}"], Said(crossChecked));
    }

    [Theory]
    [InlineData(193, false)]
    [InlineData(183, false)]
    [InlineData(193.1, true)]
    [InlineData(182.9, true)]
    public void RecordsMoreThanFiveDegreesApartAreToldOnceOnTheLater(double celsius, bool clashes) =>
        Assert.Equal(clashes ? [$"{Second} {Gap}"] : [], Said(With(celsius)));

    [Fact]
    public void GapIsMeasuredBetweenTheNearestEndsOfTwoRanges()
    {
        ReferenceTable Ranges(double low, double high) => Sound.Add(
            RecordKinds.Derivatives, Other(188).Melting(low, high));

        Assert.Empty(Said(Ranges(193, 200)));
        Assert.Equal([$"{Second} {Gap}"], Said(Ranges(194, 200)));
        Assert.Equal([$"{First} {State}", $"{Second} {State}"], Said(Ranges(180, 200)));
    }

    [Fact]
    public void ThirdRecordIsComparedWithTheFurthestBeforeIt()
    {
        var table = With(200).Add(RecordKinds.Derivatives, Other(209) with { Key = "zz" });
        var finding = Assert.Single(TableValidation.Of(table), finding => finding.Key == "zz" && finding.Field == Gap);

        Assert.Equal("209 °C", finding.Value);
        Assert.StartsWith("21 °C from 188 °C of journal; more than 5 °C apart", finding.Allowed, StringComparison.Ordinal);
    }

    [Fact]
    public void TwoRecordsOfOneFamilyDoNotConfirmEachOther()
    {
        var table = Sound.Change<Source>(RecordKinds.Sources, "other-journal", source => source with { Family = "journal" });

        Assert.Empty(Said(table.Add(RecordKinds.Derivatives, Other(188))));
        Assert.Equal([$"{Second} {Gap}"], Said(table.Add(RecordKinds.Derivatives, Other(193.1))));
    }

    [Theory]
    [InlineData("E", null, true)]
    [InlineData("E", "E", true)]
    [InlineData("E", "Z", false)]
    public void OnlyLikeFormsAreComparedAndAnUnnamedOneIsLikeEvery(string? one, string? other, bool areCompared)
    {
        var table = Sound
            .Change<Derivative>(RecordKinds.Derivatives, First, row => row with { Form = one })
            .Add(RecordKinds.Derivatives, Other(200) with { Form = other });

        Assert.Equal(areCompared ? [$"{Second} {Gap}"] : [], Said(table));
    }

    [Fact]
    public void MonoAndBisDerivativesAreDifferentThings()
    {
        var bis = Derivative("pentane-2-4-dione", "oxime", 200, "other-journal") with { CarbonylsCondensed = 2 };

        Assert.Empty(Said(Sound.Add(RecordKinds.Derivatives, bis)));
        Assert.NotEmpty(Said(Sound.Add(RecordKinds.Derivatives, bis with { CarbonylsCondensed = 1 })));
    }

    [Fact]
    public void ConstantsAreComparedButNotEnthalpies()
    {
        ReferenceTable Boils(double celsius) => Sound.Add(
            RecordKinds.ParentConstants, Constant("propanone", ParentProperty.BoilingPoint, celsius, 101.325, "journal"));

        Assert.Equal(
            ["propanone:boiling-point:journal:58 Verification", "propanone:boiling-point:other-journal:56 Verification"],
            Said(Boils(58)));
        Assert.Equal(["propanone:boiling-point:journal:62 Low"], Said(Boils(62)));
        Assert.Empty(Said(Boils(60)));
        Assert.Empty(Said(Sound.Add(
            RecordKinds.ParentConstants, Constant("propanone", ParentProperty.EnthalpyOfFusion, 9000, null, "journal"))));
        Assert.Empty(Said(Sound.Add(
            RecordKinds.ParentConstants, Constant("propanone", ParentProperty.MeltingPoint, -95, null, "journal"))));
    }

    [Fact]
    public void RangeIsPrintedAsARange()
    {
        var table = Sound.Add(RecordKinds.Derivatives, Other(188).Melting(200, 202));

        var finding = Assert.Single(TableValidation.Of(table));
        Assert.Equal("200–202 °C", finding.Value);
        Assert.StartsWith("12 °C from 188 °C of journal", finding.Allowed, StringComparison.Ordinal);
    }

    [Fact]
    public void AgreementWaitsUntilEveryKeyLeadsSomewhere()
    {
        var broken = With(200).Change<Derivative>(RecordKinds.Derivatives, First, row => row with { ParentKey = "nobody" });

        Assert.DoesNotContain(TableValidation.Of(broken), finding => finding.Field == Gap);
    }

    private static Derivative Other(double celsius) => Derivative("propanone", "semicarbazone", celsius, "other-journal");

    private static ReferenceTable With(double celsius) => Sound.Add(RecordKinds.Derivatives, Other(celsius));

    private static ReferenceTable CrossChecked(ReferenceTable table) => table with
    {
        Derivatives = [.. table.Derivatives.Select(row =>
            row.Key is First or Second ? row with { Verification = Verification.CrossChecked } : row)],
    };

    private static IEnumerable<string> Said(ReferenceTable table)
    {
        var found = TableValidation.Of(table);
        Assert.All(found, finding => Assert.Equal(FindingSeverity.Warning, finding.Severity));
        return found.Select(finding => $"{finding.Key} {finding.Field}").Order(StringComparer.Ordinal);
    }
}

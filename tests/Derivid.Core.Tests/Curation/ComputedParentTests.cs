using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;
using static Derivid.Core.Tests.Curation.CuratedTable;

namespace Derivid.Core.Tests.Curation;

/// <summary>What a structure alone tells a curator.</summary>
public sealed class ComputedParentTests
{
    [Fact]
    public void DiketoneHasDerivativesOfOneAndOfTwoCarbonylsAndNoneOfAldehydesOnly()
    {
        // Hexane-2,5-dione, C6H10O2. Oxime: + H3NO − H2O each; semicarbazone: + CH5N3O − H2O each.
        var computed = Of("CC(=O)CCC(C)=O");

        Assert.Equal(ParentKind.Ketone, computed.Kind);
        Assert.Equal(
            [("oxime", 1, "C6H11NO2"), ("oxime", 2, "C6H12N2O2"), ("semicarbazone", 1, "C7H13N3O2"), ("semicarbazone", 2, "C8H16N6O2")],
            computed.Derivatives.Select(row => (row.Kind.Key, row.CarbonylsCondensed, row.Formula.ToString())));
    }

    [Fact]
    public void NoMoreThanTwoCarbonylsAreCounted() =>
        Assert.Equal([1, 2], Of("CC(=O)CC(=O)CC(C)=O").Derivatives
            .Where(row => row.Kind.Key == "oxime").Select(row => row.CarbonylsCondensed));

    [Fact]
    public void AldehydeTakesTwoOfAReagentThatNeedsTwo()
    {
        // Ethanal, C2H4O, and two of dimedone, C8H12O2, less one water.
        var derivative = Of("CC=O").Derivatives.Single(row => row.Kind.Key == "dimedone-derivative");

        Assert.Equal("C18H26O4", derivative.Formula.ToString());
    }

    [Fact]
    public void OutcomesAreThoseOfTheFirstRowThatFitsAndARowOfOneParentFitsOnlyThatOne()
    {
        var table = Sound.Change<SpotTestResponse>(
            RecordKinds.SpotTestResponses, "tollens:1", row => row with { AppliesTo = "parent:propanone" });
        double Rate(ReferenceTable of, string? parent, string smiles) => new ExpectedOutcomes(of)
            .Of(parent, CarbonylEnvironment.Of(SmilesReader.Read(smiles).Molecule!).Features)
            .Single(outcome => outcome.Test.Key == "tollens").PositiveRate;

        Assert.Equal(0.95, Rate(Sound, "benzaldehyde", "O=Cc1ccccc1"));
        Assert.Equal(0.04, Rate(Sound, "propanone", "CC(C)=O"));
        Assert.Equal(0.95, Rate(table, "propanone", "CC(C)=O"));
        Assert.Equal(0.04, Rate(table, "benzaldehyde", "O=Cc1ccccc1"));
        Assert.Equal(0.04, Rate(table, null, "O=Cc1ccccc1"));
    }

    [Fact]
    public void TestWithoutARowAnswersNoAtItsUsualRate()
    {
        var outcome = new ExpectedOutcomes(Sound with { Responses = [] }).Of(null, StructureFeature.None)[0];

        Assert.Equal((0.05, null), (outcome.PositiveRate, outcome.Response));
    }

    [Fact]
    public void RowsAreAskedByTheirOrderNotTheirPlace()
    {
        var turned = Sound with { Responses = [.. Sound.Responses.Reverse()] };

        Assert.Equal(
            [0.9, 0.95],
            new ExpectedOutcomes(turned)
                .Of(null, CarbonylEnvironment.Of(SmilesReader.Read("O=Cc1ccccc1").Molecule!).Features)
                .Select(outcome => outcome.PositiveRate));
    }

    [Theory]
    [InlineData("CC(=O)C", null, "propanone")]
    [InlineData("CCCC(=O)CCC", "Acetone", "propanone")]
    [InlineData("CCCC(=O)CCC", "Benz aldehyde", "benzaldehyde")]
    public void SameStructureOrNameIsALikelyDuplicate(string smiles, string? name, string duplicate) =>
        Assert.Equal([duplicate], Of(smiles, name).Duplicates.Select(found => found.Parent.Key));

    [Theory]
    [InlineData("CCCC(=O)CCC", null)]
    [InlineData("CCCC(=O)CCC", "")]
    [InlineData("CCCC(=O)CCC", "--")]
    [InlineData("CCCC(=O)CCC", "benzaldxxx")]
    [InlineData("CCC=O", null)]
    [InlineData("CCCC(=O)CCC", "pentane-2,3-dione")]
    [InlineData("CCCC(=O)CCC", "propanonelike")]
    public void OtherCompoundIsNoDuplicate(string smiles, string? name) => Assert.Empty(Of(smiles, name).Duplicates);

    [Theory]
    [InlineData("O=Cc1ccc(CC)cc1", "4-ethylbenzaldehyde", "4-methylbenzaldehyde")]
    [InlineData("CC(C)CC=O", "3-methylbutanal", "2-methylbutanal")]
    [InlineData("CCCC(=O)CCC", "benzaldehid", "benzaldehyde")]
    public void NameThatIsNearlyTheSameIsAnotherCompounds(string smiles, string name, string listed)
    {
        var table = Sound.Change<Parent>(RecordKinds.Parents, "propanone", parent => parent with { Name = listed });

        Assert.Empty(Of(smiles, name, table).Duplicates);
    }

    [Theory]
    [InlineData("CCO", "ethanol", "aldehyde or ketone group")]
    [InlineData("CC(=O)O", null, "aldehyde or ketone group")]
    [InlineData("CC=O", "<i>ethanal</i>", "markup")]
    [InlineData("CC=O", "67-64-2", "check digit is wrong")]
    [InlineData("CC=O", "67-64-1", "a column of its own")]
    [InlineData("CC=O", "75", "which has letters")]
    public void WhatIsNoCarbonylCompoundsIsTold(string smiles, string? name, string why) =>
        Assert.Contains(why, Assert.Single(Of(smiles, name).Remarks), StringComparison.Ordinal);

    [Theory]
    [InlineData("CC=O", "ethanal")]
    [InlineData("CC(OC)OC", "1,1-dimethoxyethane")]
    [InlineData("OC(O)C(Cl)(Cl)Cl", "chloral hydrate")]
    [InlineData("CC=O", null)]
    public void CarbonylCompoundIsLeftAlone(string smiles, string? name) => Assert.Empty(Of(smiles, name).Remarks);

    [Fact]
    public void NameOf380LettersIsTold()
    {
        Assert.Contains("this has 380", Assert.Single(Of("CC=O", new string('a', 380)).Remarks), StringComparison.Ordinal);
        Assert.Empty(Of("CC=O", new string('a', CompoundName.LongestUsual)).Remarks);
    }

    [Fact]
    public void ParentFoundByStructureAndByNameIsToldOnceByStructure()
    {
        var duplicate = Assert.Single(Of("CC(C)=O", "acetone").Duplicates);

        Assert.StartsWith("It has this structure", duplicate.Reason, StringComparison.Ordinal);
    }

    private static ComputedParent Of(string smiles, string? name = null, ReferenceTable? table = null) =>
        ComputedParent.Of(SmilesReader.Read(smiles).Molecule!, name, table ?? Sound);
}

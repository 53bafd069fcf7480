using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>R₂C=O and H₂N-X to R₂C=N-X; and where nothing is told.</summary>
public sealed class CondensationTests
{
    // Formulas as standard compilations print them; recalled, no source opened.
    [Theory]
    [InlineData("CC(C)=O", "NNc1ccc(cc1[N+](=O)[O-])[N+](=O)[O-]", 1, "C9H10N4O4")]
    [InlineData("O=Cc1ccccc1", "NNC(N)=O", 1, "C8H9N3O")]
    [InlineData("CC(=O)C(C)=O", "NO", 2, "C4H8N2O2")]
    [InlineData("O=C1CCCCC1", "NO", 1, "C6H11NO")]
    [InlineData("O=Cc1ccccc1", "NNc1ccccc1", 1, "C13H12N2")]
    [InlineData("O=Cc1ccccc1", "Cc1ccc(cc1)S(=O)(=O)NN", 1, "C14H14N2O2S")]
    public void APublishedFormulaIsMet(string parent, string reagent, int carbonyls, string formula) =>
        Assert.Equal(formula, Of(parent, Kind(reagent), carbonyls).Product!.Formula.ToString());

    [Theory]
    [InlineData("CC(C)=O", "NNc1ccccc1", 1, "CC(C)=NNc1ccccc1")]
    [InlineData("O=C1C=CC(=O)C=C1", "NO", 1, "ON=C1C=CC(=O)C=C1")]
    [InlineData("O=CC=O", "NNC(N)=O", 2, "NC(=O)NN=CC=NNC(N)=O")]
    [InlineData("C=O", "NO", 1, "C=NO")]
    public void TheNitrogenTakesTheOxygensPlace(string parent, string reagent, int carbonyls, string product) => Assert.Equal(
        StructureFingerprint.Of(Read(product)), StructureFingerprint.Of(Of(parent, Kind(reagent), carbonyls).Product!));

    [Fact]
    public void TheConfigurationOfTheParentsDoubleBondStays()
    {
        Molecule product = Of("O=C/C=C/C", Kind("NO"), 1).Product!;
        DoubleBondConfiguration kept = Assert.Single(product.Configurations);
        Assert.False(kept.SameSide);
        Assert.Contains(product.NeighboursOf(kept.First), next => next.Atom == kept.Second && next.Order == 2);
        Assert.Contains(product.NeighboursOf(kept.First), next => next.Atom == kept.BesideFirst);
    }

    [Theory]
    [InlineData("CC(=O)C=O", 1, "differ")]
    [InlineData("CC(C)=O", 2, "the parent has 1")]
    [InlineData("CCO", 1, "the parent has 0")]
    [InlineData("CC(=O)CC(C)=O", 2, "may close a ring")]
    [InlineData("CCOC(=O)CC(C)=O", 1, "may close a ring")]
    public void WhatIsOpenIsSaidAndNotGuessed(string parent, int carbonyls, string said)
    {
        Condensation condensation = Of(parent, Kind("NNc1ccccc1") with { ClosesTo = ClosedRing.Pyrazole }, carbonyls);
        Assert.False(condensation.IsTold);
        Assert.Contains(said, condensation.Reason, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("CC1(C)CC(=O)CC(=O)C1", 2)]
    [InlineData("Nc1ccccc1", 1)]
    [InlineData("NN", 1)]
    public void AReagentThatJoinsInAnotherWayGivesNoStructure(string reagent, int reagents)
    {
        Condensation condensation = Of("CC=O", Kind(reagent) with { ReagentsPerCarbonyl = reagents }, 1);
        Assert.Contains("does not say how", condensation.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void NoCarbonylGroupAtAllIsACallersMistake() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Of("CC=O", Kind("NO"), 0));

    private static Condensation Of(string parent, DerivativeKind kind, int carbonyls) =>
        Condensation.Of(Read(parent), kind, carbonyls);

    private static Molecule Read(string smiles) => SmilesReader.Read(smiles).Molecule!;

    private static DerivativeKind Kind(string reagent) => new()
    {
        Key = "kind",
        Name = "kind",
        ReagentName = "the reagent",
        ReagentSmiles = reagent,
        ReagentFormula = Read(reagent).Formula.ToString(),
        ReagentMolarMass = Read(reagent).Formula.MolarMass,
        ReagentsPerCarbonyl = 1,
        WatersPerCarbonyl = 1,
        ColourInforms = false,
        RecrystallisationSolvents = "",
        UsualLowCelsius = 0,
        UsualHighCelsius = 300,
        Minutes = 30,
        Hazard = Hazard.Moderate,
        Cautions = "",
        SourceKey = "made-up",
    };
}

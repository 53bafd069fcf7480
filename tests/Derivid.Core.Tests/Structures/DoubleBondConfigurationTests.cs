using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>What "/" and "\" say. Source: OpenSMILES specification 1.0, section 3.8.2, and its examples.</summary>
public sealed class DoubleBondConfigurationTests
{
    [Theory]
    [InlineData("F/C=C/F", false)]
    [InlineData(@"F\C=C\F", false)]
    [InlineData(@"F/C=C\F", true)]
    [InlineData(@"C(\F)=C/F", false)]
    [InlineData(@"F\C=C/F", true)]
    [InlineData("F/C=C/1.F1", false)]
    [InlineData(@"C/1=C/F.F\1", true)]
    [InlineData("[H]/C(F)=C/F", true)]
    public void TheTwoNeighboursLieOnTheSidesSaid(string smiles, bool sameSide)
    {
        Molecule molecule = SmilesReader.Read(smiles).Molecule!;
        DoubleBondConfiguration configuration = Assert.Single(molecule.Configurations);
        Assert.Equal("F", molecule.Atoms[configuration.BesideFirst].Symbol);
        Assert.Equal("F", molecule.Atoms[configuration.BesideSecond].Symbol);
        Assert.Equal(sameSide, configuration.SameSide);
    }

    [Theory]
    [InlineData("FC=CF")]
    [InlineData("F/C=CF")]
    [InlineData("C/C=C")]
    [InlineData("[H]/C=C/F")]
    public void WhatIsSaidOnOneSideOnlyIsNoConfiguration(string smiles) =>
        Assert.Empty(SmilesReader.Read(smiles).Molecule!.Configurations);
}

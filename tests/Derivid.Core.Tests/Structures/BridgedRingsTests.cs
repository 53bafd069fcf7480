using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

public sealed class BridgedRingsTests
{
    [Theory]
    [InlineData("CC1(C)C2CCC1(C)C(=O)C2")] // camphor
    [InlineData("CC1(C)C2CCC(C)(C2)C1=O")] // fenchone
    [InlineData("CC12CCC(C(=O)C1=O)C2(C)C")] // camphorquinone
    [InlineData("C1C2CC3CC(C2)CC1C3=O")] // adamantan-2-one
    [InlineData("CC1(C)C2CC1CC=C2C=O")] // myrtenal
    [InlineData("O=C1CC2CCC1CC2")] // bicyclo[2.2.2]octan-2-one
    public void CagesAndBridges(string smiles) => Assert.True(Found(smiles));

    [Theory]
    [InlineData("CC(C)=O")]
    [InlineData("O=C(C(=O)c1ccccc1)c1ccccc1")] // benzil
    [InlineData("O=C(c1ccccc1)c1ccccc1")] // benzophenone
    [InlineData("CC(C)C12CC1C(C)C(=O)C2")] // thujone: fused
    [InlineData("O=C1CCCC12CCCC2")] // spiro
    [InlineData("O=C1C(=O)c2cccc3cccc1c23")] // acenaphthenequinone: fused at three
    [InlineData("O=C1C=Cc2cccc3cccc1c23")] // phenalenone
    [InlineData("O=Cc1ccc2ccc3cccc4ccc1c2c34")] // pyrene-1-carbaldehyde
    [InlineData("O=C1c2ccccc2C(=O)c2ccccc12")] // anthraquinone
    [InlineData("O=C1Cc2ccccc12")] // benzocyclobutenone
    public void RingsApartFusedOrSpiro(string smiles) => Assert.False(Found(smiles));

    private static bool Found(string smiles) => BridgedRings.AreIn(SmilesReader.Read(smiles).Molecule!);
}

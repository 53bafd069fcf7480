using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>
/// The features, each with structures that have it and near misses that do not. Which is which was settled by looking
/// at the drawn structure with the definition at <see cref="StructureFeature"/> in hand.
/// </summary>
public sealed class CarbonylEnvironmentTests
{
    [Theory]
    [InlineData("CC(=O)C(C)(C)C", true)] // pinacolone
    [InlineData("CC(C)(C)C(=O)c1ccccc1", true)]
    [InlineData("CC1(C)CCCCC1=O", true)]
    [InlineData("CC(=O)C(C)C", false)]
    [InlineData("CC(=O)CC(C)(C)C", false)]
    [InlineData("O=CC(C)(C)C", false)] // an aldehyde
    public void TertiaryKetoneIsSeen(string smiles, bool isSeen) =>
        Assert.Equal(isSeen, CarbonylEnvironment.Of(SmilesReader.Read(smiles).Molecule!).HasTertiaryKetone);

    [Theory]
    [InlineData("C=O", 1, 0)]
    [InlineData("O=CC=O", 2, 0)]
    [InlineData("CC(=O)C=O", 1, 1)]
    [InlineData("CC(=O)CC(C)=O", 0, 2)]
    [InlineData("O=C1C=CC(=O)C=C1", 0, 2)]
    [InlineData("CC(O)=O", 0, 0)]
    [InlineData("COC=O", 0, 0)]
    [InlineData("CN(C)C=O", 0, 0)]
    [InlineData("CC(=O)Cl", 0, 0)]
    [InlineData("C=C=O", 0, 0)]
    [InlineData("O=C=O", 0, 0)]
    [InlineData("OC(O)C(Cl)(Cl)Cl", 0, 0)]
    [InlineData("CC(=O)C(O)=O", 0, 1)]
    [InlineData("CC(=O)CC(=O)OCC", 0, 1)]
    [InlineData("CC(C)=O.CC=O", 1, 1)]
    public void GroupsAreCounted(string smiles, int aldehydes, int ketones)
    {
        CarbonylEnvironment environment = Of(smiles);
        Assert.Equal(aldehydes, environment.AldehydeGroups);
        Assert.Equal(ketones, environment.KetoneGroups);
        Assert.Equal(aldehydes + ketones, environment.CarbonylGroups);
    }

    // Whole sets, so that a feature too many shows as well.
    [Theory]
    [InlineData("C=O", "aldehyde aliphatic-aldehyde methanal saturated-carbonyl")]
    [InlineData("CC=O", "aldehyde aliphatic-aldehyde acetaldehyde-type saturated-carbonyl alpha-hydrogen")]
    [InlineData("CC(C)=O", "ketone methyl-ketone saturated-carbonyl alpha-hydrogen")]
    [InlineData("CC(=O)C(C)(C)C", "ketone methyl-ketone saturated-carbonyl alpha-hydrogen")]
    [InlineData("O=Cc1ccccc1", "aldehyde aromatic-aldehyde")]
    [InlineData("O=Cc1ccco1", "aldehyde heteroaromatic-aldehyde")]
    [InlineData("CC(=O)c1ccccc1", "ketone methyl-ketone aryl-methyl-ketone aryl-ketone alpha-hydrogen")]
    [InlineData("O=C(c1ccccc1)c1ccccc1", "ketone aryl-ketone diaryl-ketone")]
    [InlineData("C/C=C/C=O", "aldehyde aliphatic-aldehyde conjugated-enal alkene")]
    [InlineData("O=C/C=C/c1ccccc1", "aldehyde aliphatic-aldehyde conjugated-enal extended-conjugation alkene")]
    [InlineData("O=C1CCCCC1", "ketone saturated-carbonyl cyclic-ketone alpha-hydrogen")]
    [InlineData("Oc1ccccc1C=O", "aldehyde aromatic-aldehyde phenol para-donor-aryl")]
    [InlineData(
        "CC(O)C(C)=O",
        "ketone methyl-ketone alpha-methyl-carbinol saturated-carbonyl alpha-hydroxy-carbonyl "
        + "primary-or-secondary-alcohol alpha-hydrogen")]
    [InlineData("CCO", "alpha-methyl-carbinol primary-or-secondary-alcohol")]
    [InlineData("c1ccccc1", "")]
    public void FeaturesAreThese(string smiles, string features) =>
        Assert.Equal(features, string.Join(' ', StructureFeatureNames.Of(Of(smiles).Features)));

    [Theory]
    [InlineData("acetaldehyde-type", "CC=O", "CCC=O", "C=O")]
    [InlineData("heteroaromatic-aldehyde", "O=CC1=COC=C1", "O=Cc1ccccc1", "O=CC1CCCO1")]
    [InlineData("heteroaromatic-aldehyde", "O=Cc1ccncc1", "O=Cc1cccc2ncccc12", "O=Cc1ccccc1-c1ccco1")]
    [InlineData("conjugated-enal", "CC(C)=CC=O", "CC(C)=CCC=O", "O=Cc1ccccc1")]
    [InlineData("methyl-ketone", "CC(=O)CC", "CC(=O)O", "CC(=O)N")]
    [InlineData("alpha-methyl-carbinol", "CC(O)CC", "CC(C)(C)O", "CCCO")]
    [InlineData("alpha-methyl-carbinol", "CC(O)C", "COC(C)C", "Cc1ccccc1O")]
    [InlineData("saturated-carbonyl", "CC(=O)CC(C)=O", "CC(=O)C(C)=O", "CC(=O)C#C")]
    [InlineData("saturated-carbonyl", "O=C1CCC=CC1", "O=C1CCCC=C1", "CC(=O)C#N")]
    [InlineData("cross-conjugated-dienone", "CC(C)=CC(=O)C=C(C)C", "CC(C)=CC(C)=O", "C=CC(=O)c1ccccc1")]
    [InlineData("extended-conjugation", "CC=CC=CC=O", "C=CC(=O)CC=C", "O=CC=CCc1ccccc1")]
    [InlineData("extended-conjugation", "C=CC(=O)c1ccccc1", "O=C(c1ccccc1)c1ccccc1", "O=Cc1ccc(C=C)cc1")]
    [InlineData("cyclic-ketone", "O=C1CCC1", "CC(=O)C1CCC1", "O=CC1CCC1")]
    [InlineData("one-two-dicarbonyl", "CC(=O)C(C)=O", "CC(=O)C(O)=O", "CC(=O)CC(C)=O")]
    [InlineData("one-three-dicarbonyl", "CC(=O)CC(=O)OCC", "CC(=O)CCC(C)=O", "CC(=O)CC(O)=O")]
    [InlineData("one-three-dicarbonyl", "O=C1CC(=O)c2ccccc12", "O=C1C(=O)C(=O)c2ccccc12", "O=Cc1ccccc1C=O")]
    [InlineData("enol-stable", "CC(=O)CC(C)=O", "CC(=O)C(C)(C)C(C)=O", "CC(=O)CC(=O)OCC")]
    [InlineData("alpha-hydroxy-carbonyl", "OCC(C)=O", "OCCC(C)=O", "COCC(C)=O")]
    [InlineData("alpha-halo-carbonyl", "ClC(Cl)(Cl)C=O", "ClCCC=O", "CC(=O)Cl")]
    [InlineData("alpha-halo-carbonyl", "O=C(CBr)c1ccccc1", "CC(=O)c1ccccc1Br", "CC(Br)=O")]
    [InlineData("hindered-ketone", "CC(C)C(=O)C(C)C", "CC(C)C(C)=O", "CC(C)CC(=O)CC(C)C")]
    [InlineData("hindered-ketone", "CC1(C)C2CCC1(C)C(=O)C2", "CC(=O)C(C)(C)C", "CC1CCCCC1=O")]
    [InlineData("hindered-ketone", "CC(=O)c1c(C)cccc1C", "CC(=O)c1ccccc1C", "O=C1CCOc2cccc(O)c12")]
    [InlineData("hindered-ketone", "CC(=O)c1c2ccccc2cc2ccccc12", "Cc1cc(C)c(C=O)c(C)c1", "CC(=O)c1ncccn1")]
    [InlineData("phenol", "Oc1ccccc1", "OCc1ccccc1", "COc1ccccc1")]
    [InlineData("nitro", "CN(=O)=O", "CON(=O)=O", "CN=O")]
    [InlineData("quinone", "O=C1C=CC(=O)C=C1", "O=C1CCC(=O)CC1", "O=C1C=CC(C)(C)C=C1")]
    [InlineData("quinone", "O=C1C(=O)c2ccccc2-c2ccccc12", "O=C1c2ccccc2Cc2ccccc12", "O=C1C(=O)c2cccc3cccc1c23")]
    [InlineData("alkene", "C=C", "c1ccccc1", "C=O")]
    [InlineData("alkyne", "C#C", "C#N", "C=C")]
    [InlineData("primary-or-secondary-alcohol", "CO", "CC(C)(C)O", "OC(O)C(Cl)(Cl)Cl")]
    [InlineData("carboxylic-acid", "CC([O-])=O", "CC(=O)OC", "OC(O)=O")]
    [InlineData("ester", "O=C1CCCO1", "CC(=O)OC(C)=O", "COC(=O)OC")]
    [InlineData("amine", "CN(C)C", "CC(N)=O", "C[NH3+]")]
    [InlineData("amine", "NC", "NC(N)=N", "CNN")]
    [InlineData("aryl-amine", "Nc1ccccc1", "NCc1ccccc1", "CC(=O)Nc1ccccc1")]
    [InlineData("alpha-hydrogen", "CC(C)C=O", "CC(C)(C)C=O", "C=CC=O")]
    [InlineData("para-donor-aryl", "CN(C)c1ccc(C=O)cc1", "CN(C)c1cccc(C=O)c1", "CC(=O)Nc1ccc(C=O)cc1")]
    [InlineData("para-donor-aryl", "COc1ccccc1C=O", "COc1cccc(C=O)c1", "COc1ccccc1CC=O")]
    [InlineData("para-donor-aryl", "[O-]c1ccc(C=O)cc1", "O=[N+]([O-])c1ccc(C=O)cc1", "O=Cc1ccc(OC(C)=O)cc1")]
    [InlineData("halogen", "[Na+].[Cl-]", "[Na+].[OH-]", "c1ccsc1")]
    public void FeatureTellsFromNearMisses(string feature, string has, string lacks, string lacksToo)
    {
        Assert.True(StructureFeatureNames.TryParse(feature, out StructureFeature flag));
        Assert.NotEqual(StructureFeature.None, Of(has).Features & flag);
        Assert.Equal(StructureFeature.None, Of(lacks).Features & flag);
        Assert.Equal(StructureFeature.None, Of(lacksToo).Features & flag);
    }

    [Theory]
    [InlineData("O=Cc1ccccc1", "O=CC1=CC=CC=C1")]
    [InlineData("O=Cc1ccco1", "O=CC1=CC=CO1")]
    [InlineData("CC(=O)c1cccs1", "CC(=O)C1=CC=CS1")]
    [InlineData("O=Cc1ccc[nH]1", "O=CC1=CC=CN1")]
    [InlineData("O=Cc1cccc2ccccc12", "O=CC1=CC=CC2=CC=CC=C12")]
    [InlineData("O=Cc1cccc2ccccc12", "O=CC1=C2C=CC=CC2=CC=C1")]
    [InlineData("Oc1ccc(C=O)cc1", "OC1=CC=C(C=O)C=C1")]
    [InlineData("O=C1C=CC(=O)C=C1", "O=c1ccc(=O)cc1")]
    [InlineData("O=c1cc[nH]cc1", "O=C1C=CNC=C1")]
    public void UpperAndLowerCaseGiveTheSame(string one, string other) => Assert.Equal(Of(one), Of(other));

    private static CarbonylEnvironment Of(string smiles)
    {
        SmilesReading reading = SmilesReader.Read(smiles);
        Assert.True(reading.IsRead, reading.Error?.ToString());
        return CarbonylEnvironment.Of(reading.Molecule);
    }
}

using Derivid.Core.Compounds;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

public sealed class ChemistryTests
{
    /// <summary>Molar masses are printed to 0.01 g/mol.</summary>
    private const double MassTolerance = 0.005001;

    public static TheoryData<string> ParentKeys => [.. Table.Parents.Select(parent => parent.Key)];

    public static TheoryData<string> KindKeys => [.. Table.Kinds.Select(kind => kind.Key)];

    [Fact]
    public void CheckDigitsOfCasNumbersAreRight()
    {
        var numbers = Table.Parents.Select(parent => parent.CasNumber!)
            .Concat(Table.Standards.Select(standard => standard.CasNumber));

        Assert.All(numbers, number => Assert.True(CasNumber.IsValid(number), number));
    }

    [Fact]
    public void CheckDigitTestSeesAWrongDigit()
    {
        Assert.True(CasNumber.IsValid("67-64-1"));
        Assert.False(CasNumber.IsValid("67-64-2"));
        Assert.False(CasNumber.IsValid("67-46-1"));
    }

    [Theory]
    [MemberData(nameof(ParentKeys))]
    public void FormulaIsThatOfTheStructureAndGivesTheMolarMass(string parentKey)
    {
        var parent = Parents[parentKey];

        Assert.Equal(MoleculeOf(parent.Smiles).Formula.ToString(), parent.Formula);
        Assert.Equal(MolecularFormula.Parse(parent.Formula).MolarMass, parent.MolarMass, MassTolerance);
    }

    [Theory]
    [MemberData(nameof(KindKeys))]
    public void ReagentFormulaIsThatOfItsStructureAndGivesItsMolarMass(string kindKey)
    {
        var kind = Kinds[kindKey];

        Assert.Equal(MoleculeOf(kind.ReagentSmiles).Formula.ToString(), kind.ReagentFormula);
        Assert.Equal(MolecularFormula.Parse(kind.ReagentFormula).MolarMass, kind.ReagentMolarMass, MassTolerance);
    }

    [Theory]
    [MemberData(nameof(ParentKeys))]
    public void KindOfParentIsThatOfTheStructure(string parentKey)
    {
        var parent = Parents[parentKey];
        var environment = CarbonylEnvironment.Of(MoleculeOf(parent.Smiles));

        var expected = (environment.AldehydeGroups > 0, environment.KetoneGroups > 0) switch
        {
            (true, true) => ParentKind.Both,
            (true, false) => ParentKind.Aldehyde,
            (false, true) => ParentKind.Ketone,
            _ => ParentKind.Masked,
        };

        Assert.Equal(expected, parent.Kind);
    }

    /// <summary>Formulas of well-known derivatives. Source: worked out by hand from the drawn structures.</summary>
    [Theory]
    [InlineData("propanone", "2-4-dinitrophenylhydrazone", 1, "C9H10N4O4")]
    [InlineData("benzaldehyde", "2-4-dinitrophenylhydrazone", 1, "C13H10N4O4")]
    [InlineData("benzaldehyde", "tosylhydrazone", 1, "C14H14N2O2S")]
    [InlineData("butane-2-3-dione", "oxime", 2, "C4H8N2O2")]
    [InlineData("formaldehyde", "dimedone-derivative", 1, "C17H24O4")]
    [InlineData("cyclohexanone", "semicarbazone", 1, "C7H13N3O")]
    [InlineData("benzophenone", "phenylhydrazone", 1, "C19H16N2")]
    [InlineData("acetophenone", "4-nitrophenylhydrazone", 1, "C14H13N3O2")]
    public void DerivativeIsParentPlusReagentMinusWater(string parentKey, string kindKey, int carbonyls, string formula)
    {
        Assert.Contains(Table.Derivatives, derivative => derivative.ParentKey == parentKey
            && derivative.KindKey == kindKey
            && derivative.CarbonylsCondensed == carbonyls);
        Assert.Equal(formula, ProductOf(Parents[parentKey], Kinds[kindKey], carbonyls).ToString());
    }

    [Fact]
    public void NoMoreCarbonylsCondenseThanTheStructureHas() =>
        Assert.All(Table.Derivatives, derivative =>
        {
            var environment = CarbonylEnvironment.Of(MoleculeOf(Parents[derivative.ParentKey].Smiles));
            var available = derivative.KindKey == "dimedone-derivative"
                ? environment.AldehydeGroups
                : environment.CarbonylGroups;
            Assert.True(derivative.CarbonylsCondensed >= 1 && derivative.CarbonylsCondensed <= available, derivative.Key);
            Assert.True(
                ProductOf(Parents[derivative.ParentKey], Kinds[derivative.KindKey], derivative.CarbonylsCondensed)
                    .MolarMass > Parents[derivative.ParentKey].MolarMass,
                derivative.Key);
        });

    private static MolecularFormula ProductOf(Parent parent, DerivativeKind kind, int carbonyls) =>
        DerivativeFormula.Of(MolecularFormula.Parse(parent.Formula), kind, carbonyls);

    private static Molecule MoleculeOf(string smiles)
    {
        var reading = SmilesReader.Read(smiles);
        Assert.True(reading.IsRead, $"{smiles}: {reading.Error?.Sentence}");
        return reading.Molecule!;
    }
}

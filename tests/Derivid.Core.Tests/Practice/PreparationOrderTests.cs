using Derivid.Core.Compounds;
using Derivid.Core.Practice;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Practice;

public sealed class PreparationOrderTests
{
    // An acetal gives more off than water before it is the derivative; how much, no column says.
    [Fact]
    public void MaskedCarbonylIsRefusedRatherThanReckonedWrongly()
    {
        var refusal = Assert.Single(Order("CC(OC)OC", "C4H10O2").Refusals());

        Assert.Equal(nameof(PreparationOrder.Parent), refusal.Field);
        Assert.Contains("set free only", refusal.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, true)]
    [InlineData(2, true)]
    [InlineData(3, false)]
    public void NoMoreCarbonylsReactThanThereAre(int condensed, bool isTaken)
    {
        var refusals = (Order("O=CC=O", "C2H2O2") with { CarbonylsCondensed = condensed }).Refusals();

        Assert.Equal(isTaken, refusals.Count == 0);
        Assert.All(refusals, refusal => Assert.StartsWith("3; 1 to 2 is allowed", refusal.Sentence, StringComparison.Ordinal));
    }

    /// <summary>By hand: 100 mg of ethanal (44.05) is 2.270 mmol, which 75.0 mg of hydroxylamine (33.03) uses up; a tenth to three times that is taken.</summary>
    [Theory]
    [InlineData(7.49, false)]
    [InlineData(7.51, true)]
    [InlineData(224.9, true)]
    [InlineData(225.1, false)]
    public void WeighedReagentIsHeldToTheSameBoundsAsAnExcess(double milligrams, bool isTaken) =>
        Assert.Equal(isTaken, (Order("CC=O", "C2H4O") with { ReagentMilligrams = milligrams }).Refusals().Count == 0);

    private static PreparationOrder Order(string smiles, string formula) => new()
    {
        Kind = new DerivativeKind
        {
            Key = "oxime",
            Name = "oxime",
            ReagentName = "hydroxylamine",
            ReagentSmiles = "NO",
            ReagentFormula = "H3NO",
            ReagentMolarMass = 33.03,
            ReagentsPerCarbonyl = 1,
            WatersPerCarbonyl = 1,
            ColourInforms = false,
            RecrystallisationSolvents = "ethanol",
            UsualLowCelsius = 30,
            UsualHighCelsius = 250,
            Minutes = 60,
            Hazard = Hazard.Moderate,
            Cautions = "Take care.",
            SourceKey = "s",
        },
        Parent = new Parent { Key = "p", Name = "the parent", CasNumber = "0-0-0", Smiles = smiles, Formula = formula, MolarMass = 1, Kind = ParentKind.Aldehyde },
        MolarMass = AmountSpan.Known(MolecularFormula.Parse(formula).MolarMass),
        Milligrams = 100,
    };
}

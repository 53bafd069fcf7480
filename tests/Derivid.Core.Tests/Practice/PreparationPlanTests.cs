using Derivid.Core.Compounds;
using Derivid.Core.Practice;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Practice;

public sealed class PreparationPlanTests
{
    private static readonly DerivativeKind Tosylhydrazone = Kind("tosylhydrazone", "C7H10N2O2S");
    private static readonly DerivativeKind Semicarbazone = Kind("semicarbazone", "CH5N3O");
    private static readonly DerivativeKind Oxime = Kind("oxime", "H3NO");
    private static readonly DerivativeKind Dinitrophenylhydrazone = Kind("2-4-dinitrophenylhydrazone", "C6H6N4O4") with { CanExplode = true };
    private static readonly DerivativeKind Dimedone = Kind("dimedone-derivative", "C8H12O2") with { ReagentsPerCarbonyl = 2 };

    /// <summary>
    /// Source: Organic Syntheses 1986, 64, 207: 7.50 g (0.071 mol) of benzaldehyde and 14.6 g (0.078 mol) of 4-toluenesulfonohydrazide give
    /// 16.97 to 18.19 g (87 to 93 %), printed as read; the upper one comes to 93.8.
    /// </summary>
    [Fact]
    public void BenzaldehydeTosylhydrazoneComesToItsPrintedAmountsAndYields()
    {
        var plan = PreparationPlan.WithReagent(Of("C7H6O", 7500), Tosylhydrazone, 14_600 / 186.23);

        Assert.Equal(71, plan.CarbonylMillimoles.Low, tolerance: 0.5);
        Assert.Equal(78, plan.ReagentMillimoles, tolerance: 0.5);
        Assert.Equal(LimitingReactant.Carbonyl, plan.Limiting);
        Assert.Equal(0.87, plan.YieldOf(16_970).Low, tolerance: 0.01);
        Assert.Equal(0.93, plan.YieldOf(18_190).High, tolerance: 0.01);
    }

    /// <summary>
    /// Source: Josef et al., J. Heterocyclic Chem. 43, 722, as stored: 0.3 g (2 mmol) of a ketone of 150.18 g/mol and 0.39 g of
    /// 4-toluenesulfonohydrazide give 0.4 g (63 %) of its tosylhydrazone, 318.39 g/mol.
    /// </summary>
    [Fact]
    public void KetoneTosylhydrazoneComesToItsPrintedMolarMassAndYield()
    {
        var plan = PreparationPlan.WithReagent(new CarbonylTaken(AmountSpan.Known(150.18), 300), Tosylhydrazone, 390 / 186.23);

        Assert.Equal(2, plan.CarbonylMillimoles.Low, tolerance: 0.005);
        Assert.Equal(318.39, plan.ProductMolarMass.Low, tolerance: 0.01);
        Assert.Equal(0.63, plan.YieldOf(400).Low, tolerance: 0.005);
    }

    /// <summary>
    /// Source: dissertation, Kiel, PPN1005245738, p. 33: of 4 g of acetoin (C4H8O2) and 6 g of semicarbazide hydrochloride came 5 g of
    /// the semicarbazone "whereas theory asks for 6.6 g".
    /// </summary>
    [Fact]
    public void AcetoinSemicarbazoneComesToThePrintedTheory()
    {
        var plan = PreparationPlan.WithReagent(Of("C4H8O2", 4000), Semicarbazone, 6000 / 111.53);

        Assert.Equal(LimitingReactant.Carbonyl, plan.Limiting);
        Assert.Equal(6600, plan.TheoreticalMilligrams.Low, tolerance: 50);
        Assert.Equal(5.0 / 6.6, plan.YieldOf(5000).High, tolerance: 0.005);
    }

    /// <summary>Source: chim.lu, exercise ech1240: 4.40 g of ethanal give 22.4 g of its 2,4-dinitrophenylhydrazone, whole molar masses (44 and 224).</summary>
    [Fact]
    public void EthanalGivesThePrintedMassOfDinitrophenylhydrazone()
    {
        var plan = PreparationPlan.WithExcess(Of("C2H4O", 4400), Dinitrophenylhydrazone, 0);

        Assert.Equal(224, plan.ProductMolarMass.Low, tolerance: 0.5);
        Assert.Equal(22_400, plan.TheoreticalMilligrams.Low, tolerance: 50);
        Assert.Equal(LimitingReactant.Neither, plan.Limiting);
    }

    /// <summary>
    /// Source: experiment sheet on benzophenone oxime after Organic Syntheses, as read: 100 g (0.55 mol) of benzophenone, 60 g
    /// (0.86 mol) of hydroxylamine hydrochloride.
    /// </summary>
    [Fact]
    public void BenzophenoneOximeHasThePrintedAmountsAndExcess()
    {
        var weighed = PracticeSubstance.Of("hydroxylamine-hydrochloride").MillimolesIn(60_000)!.Value;
        var plan = PreparationPlan.WithReagent(Of("C13H10O", 100_000), Oxime, weighed);

        Assert.Equal(550, plan.CarbonylMillimoles.Low, tolerance: 5);
        Assert.Equal(860, weighed, tolerance: 5);
        Assert.Equal((0.86 / 0.55) - 1, plan.ReagentExcess.Low, tolerance: 0.015);
    }

    // By hand: 3 mmol of aldehyde need 6 mmol of dimedone.
    [Fact]
    public void WithTwoReagentsToACarbonylTheReagentLimitsUntilThereAreTwo()
    {
        var aldehyde = Of("C7H6O", 3 * MolarMass("C7H6O"));

        Assert.Equal(LimitingReactant.Reagent, PreparationPlan.WithReagent(aldehyde, Dimedone, 5).Limiting);
        Assert.Equal(2.5, PreparationPlan.WithReagent(aldehyde, Dimedone, 5).ProductMillimoles.Low, tolerance: 1e-4);
        Assert.Equal(LimitingReactant.Neither, PreparationPlan.WithReagent(aldehyde, Dimedone, 6).Limiting);
        Assert.Equal(LimitingReactant.Carbonyl, PreparationPlan.WithReagent(aldehyde, Dimedone, 7).Limiting);
    }

    /// <summary>By hand: 100 mg of the hydrochloride (111.53) is 0.897 mmol, short of the 1 mmol of carbonyl compound it is printed for.</summary>
    [Fact]
    public void GrindingRecipeIsShortOfReagent()
    {
        var plan = PreparationPlan.WithReagent(Of("C7H6O", 106.124), Semicarbazone, 100 / 111.53);

        Assert.Equal(LimitingReactant.Reagent, plan.Limiting);
        Assert.Equal(0.8966 - 1, plan.ReagentExcess.Low, tolerance: 1e-3);
        Assert.Equal(0.8966 * MolarMass("C8H9N3O"), plan.TheoreticalMilligrams.High, tolerance: 0.1);
    }

    [Fact]
    public void ExcessAskedForIsTheExcessThatComesBack() => Assert.All([-0.5, 0, 0.1, 2], excess =>
        Assert.Equal(excess, PreparationPlan.WithExcess(Of("C3H6O", 58), Oxime, excess).ReagentExcess.Low, tolerance: 1e-12));

    // Of an unknown the reagent is enough for the lightest, and the yield is largest where there are most molecules.
    [Fact]
    public void UnknownHasSpansThatHoldWhateverItIs()
    {
        var unknown = new CarbonylTaken(new AmountSpan(70, 140), 200);
        var plan = PreparationPlan.WithExcess(unknown, Semicarbazone, 0.1);

        Assert.Equal(LimitingReactant.Carbonyl, plan.Limiting);
        Assert.Equal(0.1, plan.ReagentExcess.Low, tolerance: 1e-12);
        Assert.Equal(1.2, plan.ReagentExcess.High, tolerance: 1e-12);
        foreach (var molarMass in new[] { 70.0, 99, 140 })
        {
            var known = PreparationPlan.WithReagent(unknown with { MolarMass = AmountSpan.Known(molarMass) }, Semicarbazone, plan.ReagentMillimoles);
            Assert.InRange(known.TheoreticalMilligrams.Low, plan.TheoreticalMilligrams.Low, plan.TheoreticalMilligrams.High);
            Assert.InRange(known.CarbonylMillimoles.Low, plan.CarbonylMillimoles.Low, plan.CarbonylMillimoles.High);
        }
    }

    // Between a molar mass where the reagent limits and one where it doesn't, the yield has its highest point inside.
    [Fact]
    public void YieldOfAnUnknownIsHighestWhereBothAreUsedUp()
    {
        var unknown = new CarbonylTaken(new AmountSpan(80, 160), 160);
        var plan = PreparationPlan.WithReagent(unknown, Semicarbazone, 1.5);

        Assert.Equal(LimitingReactant.Undecided, plan.Limiting);
        var even = 160 / 1.5;
        var gain = MolarMass("CH5N3O") - MolarMass("H2O");
        Assert.Equal(1.5 * (even + gain), plan.TheoreticalMilligrams.High, tolerance: 1e-9);
        Assert.Equal(Math.Min(1.5 * (80 + gain), 160 + gain), plan.TheoreticalMilligrams.Low, tolerance: 1e-9);
    }

    [Theory]
    [InlineData(0, 100)]
    [InlineData(double.NaN, 100)]
    [InlineData(100, 0)]
    [InlineData(100, double.NaN)]
    [InlineData(100, double.PositiveInfinity)]
    public void NonsenseIsRefused(double milligrams, double molarMass) => Assert.Throws<ArgumentOutOfRangeException>(() =>
        PreparationPlan.WithExcess(new CarbonylTaken(AmountSpan.Known(molarMass), milligrams), Oxime, 0));

    [Theory]
    [InlineData(-1)]
    [InlineData(double.NaN)]
    public void NonsenseOfAReagentIsRefused(double amount)
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => PreparationPlan.WithExcess(Of("C3H6O", 58), Oxime, amount));
        Assert.Throws<ArgumentOutOfRangeException>(() => PreparationPlan.WithReagent(Of("C3H6O", 58), Oxime, amount));
        Assert.Throws<ArgumentOutOfRangeException>(() => PreparationPlan.WithExcess(Of("C3H6O", 58), Oxime, 0).YieldOf(amount));
    }

    [Theory]
    [InlineData(false, 20, null)]
    [InlineData(false, 5000, null)]
    [InlineData(false, 19.9, "19.9 mg of the carbonyl compound; 20 to 5000 mg is allowed for the x: less can hardly")]
    [InlineData(false, 5001, "5001 mg of the carbonyl compound; 20 to 5000 mg is allowed for the x: so much is not needed")]
    [InlineData(false, double.NaN, "NaN mg")]
    [InlineData(true, 500, null)]
    [InlineData(true, 501, "501 mg of the carbonyl compound; 20 to 500 mg is allowed for the x: x-ine or what it gives can explode")]
    [InlineData(true, 9000, "9000 mg of the carbonyl compound; 20 to 500 mg is allowed for the x: x-ine or what it gives can explode")]
    public void UnsafeScaleIsRefusedWithTheReason(bool canExplode, double milligrams, string? beginning)
    {
        var refusal = PreparationScale.Refusal(Kind("x", "H3NO") with { CanExplode = canExplode }, milligrams);

        Assert.Equal(beginning is null, refusal is null);
        Assert.StartsWith(beginning ?? "", refusal ?? "", StringComparison.Ordinal);
    }

    [Fact]
    public void ManyPortionsOfWhatCanExplodeAreRefusedTogether()
    {
        Assert.Null(PreparationScale.RefusalInAll(Dinitrophenylhydrazone, 500, 10));
        Assert.Contains("10 of them are allowed", PreparationScale.RefusalInAll(Dinitrophenylhydrazone, 500, 11), StringComparison.Ordinal);
        Assert.Null(PreparationScale.RefusalInAll(Semicarbazone, 500, 100));
    }

    private static CarbonylTaken Of(string formula, double milligrams) => new(AmountSpan.Known(MolarMass(formula)), milligrams);

    private static double MolarMass(string formula) => MolecularFormula.Parse(formula).MolarMass;

    private static DerivativeKind Kind(string key, string reagent) => new()
    {
        Key = key,
        Name = key,
        ReagentName = key + "-ine",
        ReagentSmiles = "N",
        ReagentFormula = reagent,
        ReagentMolarMass = MolarMass(reagent),
        ReagentsPerCarbonyl = 1,
        WatersPerCarbonyl = 1,
        ColourInforms = false,
        RecrystallisationSolvents = "ethanol",
        UsualLowCelsius = 50,
        UsualHighCelsius = 300,
        Minutes = 45,
        Hazard = Hazard.Moderate,
        Cautions = "Take care.",
        SourceKey = "s",
    };
}

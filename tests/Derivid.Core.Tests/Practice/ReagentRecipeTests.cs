using Derivid.Core.Practice;

namespace Derivid.Core.Tests.Practice;

public sealed class ReagentRecipeTests
{
    /// <summary>
    /// Source: OpenStax, Chemistry 2e, section 3.3, as read: 25.2 g of acetic acid in 0.500 L is 0.839 mol/L, 6.52 g of cobalt chloride in
    /// 75.0 mL 0.674 mol/L; section 3.3 too: 0.250 L of 5.30 mol/L holds 77.4 g of sodium chloride.
    /// </summary>
    [Theory]
    [InlineData("C2H4O2", 25.2, 500, 0.839)]
    [InlineData("Cl2Co", 6.52, 75, 0.674)]
    [InlineData("ClNa", 77.4, 250, 5.30)]
    public void SolutionHasThePublishedConcentration(string formula, double grams, double millilitres, double molar)
    {
        var recipe = Recipe(Substance(formula, 1, null), grams, null, millilitres);

        Assert.Equal(molar, recipe.ReagentMolar!.Value, tolerance: 0.005);
    }

    /// <summary>
    /// Source: OpenStax, Chemistry 2e, appendix F, as read: glacial acetic acid 1.05 g/mL, 99.5 %, 17.4 mol/L; hydrochloric acid 1.18, 36 %, 11.6;
    /// sulfuric acid 1.84, 96 %, 18.0.
    /// </summary>
    [Theory]
    [InlineData("C2H4O2", 1.05, 0.995, 17.4)]
    [InlineData("HCl", 1.18, 0.36, 11.6)]
    [InlineData("H2O4S", 1.84, 0.96, 18.0)]
    public void WhatReactsIsToldFromWhatIsMeasuredOut(string formula, double density, double share, double molar)
    {
        var recipe = Recipe(Substance(formula, share, density), null, 1, 1);

        Assert.Equal(molar, recipe.ReagentMolar!.Value, tolerance: 0.1);
    }

    /// <summary>Source: University of Bayreuth, page of school experiments: 0.25 g in 42 mL of water and 8 mL of acid, enough for about 50 tests.</summary>
    [Fact]
    public void FiftyTestsTakeThePrintedReagent()
    {
        var batch = ReagentRecipe.All.Single(recipe => recipe.Key == "dnph-hydrochloric").ForTests(50)!;

        Assert.Equal([0.25, null, null], batch.Parts.Select(part => part.Grams));
        Assert.Equal([null, 42.0, 8.0], batch.Parts.Select(part => part.Millilitres));
        Assert.Equal(50, batch.MillilitresInAll);
        // By hand: 250 mg / 198.14 g/mol / 50 mL.
        Assert.Equal(0.0252, batch.Recipe.ReagentMolar!.Value, tolerance: 5e-5);
    }

    /// <summary>By hand: 3 g / 198.14 g/mol in 105 mL is 0.144 mol/L, so 1 mmol with 10 % more takes 7.63 mL; 7 tests of 3 mL a fifth of it.</summary>
    [Fact]
    public void SolutionIsMeasuredOutForTestsAndDerivatives()
    {
        var recipe = ReagentRecipe.All.Single(recipe => recipe.Key == "dnph-sulfuric");
        var plan = PreparationPlan.WithExcess(new CarbonylTaken(AmountSpan.Known(100), 100), Dinitrophenylhydrazone, 0.1);
        var derivative = recipe.ForDerivatives(plan, 4)!;

        Assert.Equal(0.1442, recipe.ReagentMolar!.Value, tolerance: 5e-5);
        Assert.Equal(7.63, derivative.MillilitresEach!.Value, tolerance: 0.005);
        Assert.Equal(4 * 1.1 * 198.14 / 1000, derivative.Parts.First().Grams!.Value, tolerance: 1e-4);
        Assert.Equal(0.6, recipe.ForTests(7)!.Parts.First().Grams!.Value, tolerance: 1e-12);
    }

    /// <summary>Source: Organic Syntheses 1986, 64, 207: 14.6 g (0.078 mol) of reagent and 25 mL of methanol to 0.071 mol of aldehyde.</summary>
    [Fact]
    public void RecipeMixedAtOnceGrowsWithTheCarbonylCompound()
    {
        var recipe = ReagentRecipe.All.Single(recipe => recipe.Key == "tosylhydrazone-methanol");
        var plan = PreparationPlan.WithExcess(new CarbonylTaken(AmountSpan.Known(100), 710), Dinitrophenylhydrazone, 0.1);
        var batch = recipe.ForDerivatives(plan, 2)!;

        Assert.Equal(78, recipe.ReagentMillimoles!.Value, tolerance: 0.5);
        Assert.Equal(2 * 1.46, batch.Parts.First().Grams!.Value, tolerance: 1e-9);
        Assert.Equal(2 * 2.5, batch.Parts.Last().Millilitres!.Value, tolerance: 1e-9);
        Assert.Equal(7.8, batch.ReagentMillimolesEach!.Value, tolerance: 0.05);
        Assert.Null(recipe.ForTests(2));
    }

    [Fact]
    public void TooWeakASolutionIsForTestsOnly()
    {
        var plan = PreparationPlan.WithExcess(new CarbonylTaken(AmountSpan.Known(58), 500), Dinitrophenylhydrazone, 0.1);

        Assert.Null(ReagentRecipe.All.Single(recipe => recipe.Key == "dnph-hydrochloric").ForDerivatives(plan, 1));
    }

    /// <summary>By hand: of what is two thirds reagent, half as much again is weighed; of a hydrochloride 111.53 for 75.07.</summary>
    [Fact]
    public void WettedAndSaltAreWeighedForWhatReacts()
    {
        Assert.Equal(198.14 / 0.67, PracticeSubstance.Of("2-4-dinitrophenylhydrazine-wetted").MilligramsOf(1)!.Value, tolerance: 0.01);
        Assert.Equal(111.53, PracticeSubstance.Of("semicarbazide-hydrochloride").MilligramsOf(1)!.Value, tolerance: 0.01);
        Assert.Null(PracticeSubstance.Of("4-nitrophenylhydrazine-wetted").MilligramsOf(1));
    }

    private static Compounds.DerivativeKind Dinitrophenylhydrazone { get; } = new()
    {
        Key = "2-4-dinitrophenylhydrazone",
        Name = "2,4-dinitrophenylhydrazone",
        ReagentName = "2,4-dinitrophenylhydrazine",
        ReagentSmiles = "N",
        ReagentFormula = "C6H6N4O4",
        ReagentMolarMass = 198.14,
        ReagentsPerCarbonyl = 1,
        WatersPerCarbonyl = 1,
        ColourInforms = true,
        RecrystallisationSolvents = "ethanol",
        UsualLowCelsius = 50,
        UsualHighCelsius = 300,
        Minutes = 45,
        Hazard = Compounds.Hazard.High,
        Cautions = "Take care.",
        SourceKey = "s",
    };

    private static PracticeSubstance Substance(string formula, double share, double? density) =>
        new("x", "x", "k", formula, share, density, false, null, "s", null, null, null);

    private static ReagentRecipe Recipe(PracticeSubstance substance, double? grams, double? millilitres, double whole) =>
        new("r", "k", "r", whole, null, true, null, null, null, "", "s", null, null, null) { Parts = [new RecipePart("r", 1, substance, grams, millilitres, null)] };
}

using Derivid.Core.Compounds;
using Derivid.Core.Practice;
using Derivid.Core.Structures;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests;

/// <summary>What is known of making derivatives: recipes, substances and advice, each with its source; and a sheet of everything.</summary>
public sealed class PracticeTests
{
    [Fact]
    public void EveryKeyLeadsSomewhere()
    {
        Assert.All(PracticeSubstance.All, row => Assert.True(row.KindKey is null || Kinds.ContainsKey(row.KindKey), row.Key));
        Assert.All(PreparationAdvice.All, row => Assert.True(row.KindKey is null || Kinds.ContainsKey(row.KindKey), row.Text));
        Assert.All(ReagentRecipe.All, row => Assert.True(Kinds.ContainsKey(row.KindKey) && row.Parts.Count > 0, row.Key));
        Assert.Equal(RecipePart.All.Count, ReagentRecipe.All.Sum(row => row.Parts.Count));
        Assert.All(Cited(), row => Assert.True(Sources.ContainsKey(row.SourceKey) && Bibliography.Find(row.SourceKey) == Sources[row.SourceKey], row.What));
        Assert.Equal(PracticeSubstance.All.Count, PracticeSubstance.All.DistinctBy(row => row.Key).Count());
        Assert.Equal(ReagentRecipe.All.Count, ReagentRecipe.All.DistinctBy(row => row.Key).Count());
    }

    [Fact]
    public void RecalledIsWhatWasNotReadAndNothingIsSaidOfCommonPractice() => Assert.All(Cited(), row => Assert.True(
        row.Verification == Sources[row.SourceKey].HowRead switch
        {
            SourceReading.None => null,
            SourceReading.Memory => Verification.Recalled,
            _ => Verification.Read,
        },
        row.What));

    [Fact]
    public void EveryUnusedSubstanceIsAFormOfAReagent() => Assert.All(
        PracticeSubstance.All.Where(row => RecipePart.All.All(part => part.Substance.Key != row.Key)), row => Assert.NotNull(row.KindKey));

    // A solution says what it makes; anything else for how much it is. Every amount is above nothing, and of one sort.
    [Fact]
    public void RecipesSayWhatTheyAreFor()
    {
        Assert.All(ReagentRecipe.All, row =>
        {
            Assert.Single(new[] { row.Millilitres, row.CarbonylMillimoles, row.CarbonylMilligrams }.OfType<double>());
            Assert.True(row.ReagentMillimoles > 0, row.Key);
            Assert.True(row.IsForDerivatives || row.MillilitresPerTest is not null, row.Key);
            Assert.True(row.MillilitresPerTest is null || row.MillilitresPerTest < row.Millilitres, row.Key);
            Assert.Equal(Enumerable.Range(1, row.Parts.Count), row.Parts.Select(part => part.Order));
        });
        Assert.All(RecipePart.All, part =>
        {
            Assert.True(part.Grams is not > 0 || part.Millilitres is not > 0, part.ToString());
            Assert.True(part.Grams > 0 || part.Millilitres > 0 || part.AsPrinted is not null, part.ToString());
        });
    }

    // A form holds one molecule of its reagent: what it has beside that is an acid, never less than the reagent.
    [Fact]
    public void FormsHoldTheReagent() => Assert.All(PracticeSubstance.All.Where(row => row.KindKey is not null), row =>
    {
        var beside = MolecularFormula.Parse(row.Formula!) - MolecularFormula.Parse(Kinds[row.KindKey!].ReagentFormula);
        Assert.True(beside.ToString() is "" or "ClH", row.Key);
        Assert.True(row.MassShare is null or (> 0 and <= 1), row.Key);
    });

    [Fact]
    public void EveryKindHasAFormSolventsAndAWayToWashDryAndThrowAway() => Assert.All(Table.Kinds, kind =>
    {
        Assert.NotEmpty(PracticeSubstance.FormsOf(kind.Key));
        var topics = PreparationAdvice.For(kind.Key, null).Select(advice => advice.Topic).ToHashSet();
        Assert.Equal(Enum.GetValues<AdviceTopic>().ToHashSet(), topics);
    });

    // A wetted or explosive reagent says so, wherever it is named.
    [Fact]
    public void FormsOfAKindThatCanExplodeCanExplode() => Assert.All(
        PracticeSubstance.All.Where(row => row.KindKey is { } kind && Kinds[kind].CanExplode), row =>
        {
            Assert.True(row.CanExplode, row.Key);
            Assert.Contains("explo", row.Cautions!, StringComparison.OrdinalIgnoreCase);
        });

    /// <summary>Every kind with twenty parents, those with derivatives of most kinds: the mass balances, cautions are there, unsafe scales are refused.</summary>
    [Fact]
    public void SheetsOfEveryKindAndTwentyParentsBalanceAndCaution()
    {
        var parents = Table.Parents
            .OrderByDescending(parent => Table.Derivatives.Where(row => row.ParentKey == parent.Key).DistinctBy(row => row.KindKey).Count())
            .ThenBy(parent => parent.Key, StringComparer.Ordinal).Take(20).ToList();
        var made = 0;
        foreach (var (kind, parent) in Table.Kinds.SelectMany(kind => parents.Select(parent => (kind, parent))))
        {
            var groups = CarbonylEnvironment.Of(SmilesReader.Read(parent.Smiles).Molecule!).CarbonylGroups;
            foreach (var count in Enumerable.Range(1, groups))
            {
                var order = Order(kind, parent, 100) with { CarbonylsCondensed = count };
                if (order.Refusals() is [var refusal])
                {
                    Assert.Equal(nameof(order.Kind), refusal.Field);
                    Assert.NotEqual("any", kind.AppliesTo);
                    continue;
                }

                Assert.Empty(order.Refusals());
                AssertSheet(PreparationSheet.Of(order, Table), kind, parent, count);
                made++;
            }

            foreach (var unsafeMilligrams in new[] { 19.9, kind.CanExplode ? 500.1 : 5000.1 })
            {
                Assert.Contains(Order(kind, parent, unsafeMilligrams).Refusals(), refusal =>
                    refusal.Field == nameof(PreparationOrder.Milligrams) && refusal.Sentence.Contains("is allowed for the", StringComparison.Ordinal));
            }
        }

        Assert.True(made > 160, $"{made} sheets");
    }

    [Fact]
    public void UnknownGetsASheetOfSpans()
    {
        var kind = Kinds["semicarbazone"];
        var sheet = PreparationSheet.Of(
            new PreparationOrder { Kind = kind, MolarMass = new AmountSpan(90, 130), Milligrams = 200, Portions = 3, ProductMilligrams = 500 }, Table);

        Assert.Equal("the unknown semicarbazone", sheet.Title);
        Assert.Null(sheet.Product.Formula);
        Assert.Equal("M + CH5N3O − H2O", sheet.Product.Balance);
        Assert.True(sheet.Product.TheoreticalMilligrams.Low < sheet.Product.TheoreticalMilligrams.High);
        Assert.Contains("wet or holds something else", sheet.Yield!.Sentence, StringComparison.Ordinal);
        Assert.Contains(sheet.Advice, advice => advice.Text.Contains("hindered ketone", StringComparison.Ordinal));
        Assert.Contains("how long to wait before it is nothing", sheet.Unsourced);
        Assert.Null(sheet.WaitMinutes);
    }

    [Fact]
    public void AdviceMindsTheStructure()
    {
        Assert.Contains(Failures("2-4-dinitrophenylhydrazone", "pentane-2-4-dione"), text => text.Contains("pyrazole", StringComparison.Ordinal));
        Assert.Contains(Failures("oxime", "pentane-2-4-dione"), text => text.Contains("isoxazole", StringComparison.Ordinal));
        Assert.DoesNotContain(Failures("oxime", "benzaldehyde"), text => text.Contains("isoxazole", StringComparison.Ordinal));
        Assert.Contains(Failures("semicarbazone", "2-2-4-4-tetramethylpentan-3-one", "2-4-dimethylpentan-3-one"), text => text.Contains("hindered", StringComparison.Ordinal));
    }

    private static IEnumerable<string> Failures(string kind, params string[] parents) =>
        PreparationSheet.Of(Order(Kinds[kind], parents.Select(Parents.GetValueOrDefault).OfType<Parent>().First(), 100), Table).Advice
            .Where(advice => advice.Topic == AdviceTopic.Failure).Select(advice => advice.Text);

    private static PreparationOrder Order(DerivativeKind kind, Parent parent, double milligrams) => new()
    {
        Kind = kind,
        Parent = parent,
        MolarMass = AmountSpan.Known(MolecularFormula.Parse(parent.Formula).MolarMass),
        Milligrams = milligrams,
    };

    private static void AssertSheet(PreparationSheet sheet, DerivativeKind kind, Parent parent, int count)
    {
        // Parent and reagent, less water: atom by atom, and in mass.
        var reagents = count * kind.ReagentsPerCarbonyl * MolecularFormula.Parse(kind.ReagentFormula);
        var waters = count * kind.WatersPerCarbonyl * MolecularFormula.Water;
        Assert.Equal(MolecularFormula.Parse(parent.Formula) + reagents, MolecularFormula.Parse(sheet.Product.Formula!) + waters);
        var (carbonyl, product) = (sheet.Carbonyl.Millimoles.Low, sheet.Product.Millimoles.Low);
        Assert.Equal(carbonyl, product, tolerance: 1e-9);
        Assert.Equal(100 + (carbonyl * reagents.MolarMass) - (carbonyl * waters.MolarMass), sheet.Product.TheoreticalMilligrams.Low, tolerance: 1e-6);
        Assert.Equal(1.1 * count * kind.ReagentsPerCarbonyl * carbonyl, sheet.Reagent.Millimoles, tolerance: 1e-9);
        Assert.All(sheet.Reagent.Forms.Where(form => form.Milligrams is not null), form =>
            Assert.Equal(sheet.Reagent.Millimoles, form.Milligrams!.Value * form.MassShare!.Value / form.MolarMass!.Value, tolerance: 1e-9));

        Assert.Contains(sheet.Cautions, caution => caution.Subject == kind.ReagentName && caution.Text == kind.Cautions);
        foreach (var substance in ReagentRecipe.All.Where(recipe => sheet.Recipes.Any(told => told.Key == recipe.Key))
            .SelectMany(recipe => recipe.Parts).Select(part => part.Substance).Concat(PracticeSubstance.FormsOf(kind.Key)).Where(substance => substance.Cautions is not null))
        {
            Assert.Contains(sheet.Cautions, caution => caution.Subject == substance.Name && caution.Text == substance.Cautions);
        }

        Assert.True(parent.Hazards is null || sheet.Cautions.Any(caution => caution.Text == parent.Hazards), parent.Key);
        Assert.Equal(kind.CanExplode, sheet.Cautions[0].CanExplode);
        Assert.Contains("local rules", sheet.Deferral, StringComparison.Ordinal);
        var cited = sheet.Advice.Select(advice => advice.SourceKey).Concat(sheet.Recipes.Select(recipe => recipe.SourceKey)).Concat(sheet.Reagent.Forms.Select(form => form.SourceKey)).ToHashSet();
        Assert.Equal(cited.Order(StringComparer.Ordinal), sheet.Sources.Select(source => source.Key));
    }

    private static IEnumerable<(string What, string SourceKey, Verification? Verification)> Cited() =>
    [
        .. PracticeSubstance.All.Select(row => (row.Key, row.SourceKey, row.Verification)),
        .. ReagentRecipe.All.Select(row => (row.Key, row.SourceKey, row.Verification)),
        .. PreparationAdvice.All.Select(row => (row.Text, row.SourceKey, row.Verification)),
    ];
}

using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>A published way to make up a reagent, or to mix it with the carbonyl compound at once.</summary>
/// <remarks>
/// From <c>seed-tables/reagent-recipes.csv</c> and <c>reagent-recipe-parts.csv</c>, whose README describes the columns. One with a
/// volume is a solution to keep; one without is mixed for a stated amount of carbonyl compound. Thread safety: immutable.
/// </remarks>
/// <param name="Key">Stable key.</param>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Name">The name shown.</param>
/// <param name="Millilitres">Volume of the solution it makes; that of what is put together where the source states none. Units: mL. Missing: null, no solution to keep.</param>
/// <param name="MillilitresPerTest">What one spot test takes of it. Units: mL. Missing: null, no source says.</param>
/// <param name="IsForDerivatives">Whether derivatives are made with it; else it is too weak, and for tests only.</param>
/// <param name="CarbonylMillimoles">The carbonyl compound it is for. Units: mmol. Missing: null, a solution, or stated by mass.</param>
/// <param name="CarbonylMilligrams">The same by mass. Units: mg. Missing: null, a solution, or stated by amount.</param>
/// <param name="Minutes">How long it stands or is heated. Units: min. Missing: null, no source says.</param>
/// <param name="Method">How it is put together, in our words.</param>
/// <param name="SourceKey">The source that prints it.</param>
/// <param name="Locator">Page or section in the source. Missing: null.</param>
/// <param name="Verification">How far it was followed back. Missing: null, there is nothing to read.</param>
/// <param name="Note">A curator's remark. Missing: null.</param>
public sealed record ReagentRecipe(
    string Key,
    string KindKey,
    string Name,
    double? Millilitres,
    double? MillilitresPerTest,
    bool IsForDerivatives,
    double? CarbonylMillimoles,
    double? CarbonylMilligrams,
    double? Minutes,
    string Method,
    string SourceKey,
    string? Locator,
    Verification? Verification,
    string? Note)
{
    private const string Header =
        "key,kind_key,name,millilitres,millilitres_per_test,for_derivatives,carbonyl_millimoles,carbonyl_milligrams,minutes,method,source_key,locator,verification,note";

    /// <summary>All of them. Shape: by kind, then key.</summary>
    public static IReadOnlyList<ReagentRecipe> All { get; } = [.. EmbeddedTable.Rows("reagent-recipes.csv", Header).Select(Read)];

    /// <summary>What goes into it. Shape: in the order it is put together, at least one.</summary>
    public IReadOnlyList<RecipePart> Parts { get; init; } = [.. RecipePart.All.Where(part => part.RecipeKey == Key)];

    /// <summary>The reagent it holds as printed, free of acid and water. Units: mmol. Missing: null, a part of it is not known.</summary>
    public double? ReagentMillimoles => Parts.Where(part => part.Substance.KindKey == KindKey)
        .Aggregate((double?)0, (sum, part) => sum + part.ReagentMillimoles) is > 0 and var held ? held : null;

    /// <summary>The reagent in the solution. Units: mol/L. Missing: null, no solution, or a part of it is not known.</summary>
    public double? ReagentMolar => ReagentMillimoles / Millilitres;

    /// <summary>What is to be put together for spot tests. Missing: null, no source says how much one takes.</summary>
    /// <param name="tests">How many.</param>
    public RecipeBatch? ForTests(int tests)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(tests, 1);
        return Millilitres is { } whole && MillilitresPerTest is { } each
            ? new RecipeBatch(this, RecipeUse.Tests, tests, each, each * ReagentMolar, tests * each / whole)
            : null;
    }

    /// <summary>What is to be put together for derivatives: of a solution, what holds the plan's reagent; else as for the plan's carbonyl compound.</summary>
    /// <param name="plan">One of them.</param>
    /// <param name="derivatives">How many.</param>
    /// <returns>Missing: null, what the reagent holds is not known, or it is for tests only.</returns>
    public RecipeBatch? ForDerivatives(PreparationPlan plan, int derivatives)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentOutOfRangeException.ThrowIfLessThan(derivatives, 1);
        if (Millilitres is { } whole)
        {
            return plan.ReagentMillimoles / ReagentMolar is { } each && IsForDerivatives
                ? new RecipeBatch(this, RecipeUse.Derivatives, derivatives, each, plan.ReagentMillimoles, derivatives * each / whole)
                : null;
        }

        // Of an unknown as for the smallest molar mass, like the plan.
        var times = (plan.CarbonylMillimoles.High / CarbonylMillimoles) ?? (plan.Carbonyl.Milligrams / CarbonylMilligrams);
        return times is { } share
            ? new RecipeBatch(this, RecipeUse.Derivatives, derivatives, null, share * ReagentMillimoles, derivatives * share)
            : null;
    }

    private static ReagentRecipe Read(IReadOnlyList<string> cells) => new(
        cells[0],
        cells[1],
        cells[2],
        EmbeddedTable.Number(cells[3]),
        EmbeddedTable.Number(cells[4]),
        cells[5] == "yes",
        EmbeddedTable.Number(cells[6]),
        EmbeddedTable.Number(cells[7]),
        EmbeddedTable.Number(cells[8]),
        cells[9],
        cells[10],
        EmbeddedTable.OrNull(cells[11]),
        EmbeddedTable.Member<Verification>(cells[12]),
        EmbeddedTable.OrNull(cells[13]));
}

/// <summary>One thing that goes into a recipe.</summary>
/// <param name="RecipeKey">The recipe.</param>
/// <param name="Order">When it goes in, from 1.</param>
/// <param name="Substance">What it is.</param>
/// <param name="Grams">How much by mass. Units: g. Missing: null, by volume or not stated.</param>
/// <param name="Millilitres">How much by volume. Units: mL. Missing: null, by mass or not stated.</param>
/// <param name="AsPrinted">As the source says it, where that is no plain figure. Missing: null.</param>
public sealed record RecipePart(
    string RecipeKey, int Order, PracticeSubstance Substance, double? Grams, double? Millilitres, string? AsPrinted)
{
    private const string Header = "recipe_key,order,substance_key,grams,millilitres,as_printed";

    /// <summary>All of them. Shape: by recipe, then order.</summary>
    public static IReadOnlyList<RecipePart> All { get; } = [.. EmbeddedTable.Rows("reagent-recipe-parts.csv", Header).Select(Read)];

    /// <summary>What it holds of a reagent. Units: mmol. Missing: null, not stated.</summary>
    public double? ReagentMillimoles => (Grams ?? (Millilitres * Substance.GramsPerMillilitre)) is { } grams
        ? Substance.MillimolesIn(grams * 1000)
        : null;

    private static RecipePart Read(IReadOnlyList<string> cells) => new(
        cells[0],
        int.Parse(cells[1], System.Globalization.CultureInfo.InvariantCulture),
        PracticeSubstance.Of(cells[2]),
        EmbeddedTable.Number(cells[3]),
        EmbeddedTable.Number(cells[4]),
        EmbeddedTable.OrNull(cells[5]));
}

/// <summary>What a recipe is made up for.</summary>
public enum RecipeUse
{
    /// <summary>Spot tests.</summary>
    Tests,

    /// <summary>Derivatives.</summary>
    Derivatives,
}

/// <summary>A recipe for so many tests or derivatives.</summary>
/// <param name="Recipe">The recipe.</param>
/// <param name="Use">What it is for.</param>
/// <param name="Portions">How many.</param>
/// <param name="MillilitresEach">What one takes of a solution. Units: mL. Missing: null, it is mixed at once.</param>
/// <param name="ReagentMillimolesEach">The reagent one gets, free of acid and water. Units: mmol. Missing: null, not known.</param>
/// <param name="Times">How often the printed amounts are taken.</param>
public sealed record RecipeBatch(
    ReagentRecipe Recipe, RecipeUse Use, int Portions, double? MillilitresEach, double? ReagentMillimolesEach, double Times)
{
    /// <summary>The whole volume. Units: mL. Missing: null, it is mixed at once.</summary>
    public double? MillilitresInAll => MillilitresEach * Portions;

    /// <summary>Its parts in the amounts it takes. Shape: as those of the recipe.</summary>
    public IEnumerable<RecipePart> Parts => Recipe.Parts.Select(part => part with { Grams = part.Grams * Times, Millilitres = part.Millilitres * Times });
}

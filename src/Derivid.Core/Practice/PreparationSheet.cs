using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>A preparation as it goes to the bench: amounts, reagents, what to do and to expect, and cautions.</summary>
/// <remarks>What no source read says is missing, and named in <see cref="Unsourced"/>. Stores nothing and identifies nothing.</remarks>
public sealed record PreparationSheet
{
    /// <summary>Version of the reference table whose parents and kinds were used.</summary>
    public required int TableVersion { get; init; }

    /// <summary>What is made.</summary>
    public required string Title { get; init; }

    /// <summary>Key of the parent. Missing: an unknown.</summary>
    public string? ParentKey { get; init; }

    /// <summary>Key of the kind.</summary>
    public required string KindKey { get; init; }

    /// <summary>Carbonyl groups of a molecule that react.</summary>
    public required int CarbonylsCondensed { get; init; }

    /// <summary>The carbonyl compound.</summary>
    public required CarbonylAmount Carbonyl { get; init; }

    /// <summary>The reagent: what reacts, and what is weighed for it.</summary>
    public required ReagentAmount Reagent { get; init; }

    /// <summary>Which of the two there is too little of.</summary>
    public required LimitingReactant Limiting { get; init; }

    /// <summary>The same in a sentence.</summary>
    public required string LimitingSentence { get; init; }

    /// <summary>The derivative and its theoretical yield.</summary>
    public required ProductAmount Product { get; init; }

    /// <summary>The yield of the product that was weighed. Missing: none was.</summary>
    public ProductYield? Yield { get; init; }

    /// <summary>Published recipes for so many tests and derivatives. Shape: as they are listed; empty where no source read prints one.</summary>
    public required IReadOnlyList<RecipeSheet> Recipes { get; init; }

    /// <summary>What to do and to look out for. Shape: in the order of the work; solvents in the order of trying.</summary>
    public required IReadOnlyList<AdviceSheet> Advice { get; init; }

    /// <summary>How long to wait before it is nothing. Units: min. Missing: no source read says.</summary>
    public double? WaitMinutes { get; init; }

    /// <summary>Rough time to make, dry and melt it. Units: min.</summary>
    public required double Minutes { get; init; }

    /// <summary>The colour to expect, in words. Missing: none recorded, and the kind's colour says nothing of the compound.</summary>
    public string? Colour { get; init; }

    /// <summary>The melting range listed for it, over all sources. Units: °C. Missing: nothing listed.</summary>
    public AmountSpan? ListedCelsius { get; init; }

    /// <summary>What no source read says, in words.</summary>
    public required IReadOnlyList<string> Unsourced { get; init; }

    /// <summary>The usual cautions: what can explode first, then reagents, what else goes into the recipes, and the compound.</summary>
    public required IReadOnlyList<CautionOfSheet> Cautions { get; init; }

    /// <summary>What all cautions close with: who decides.</summary>
    public required string Deferral { get; init; }

    /// <summary>The sources named. Shape: by key.</summary>
    public required IReadOnlyList<Source> Sources { get; init; }

    /// <summary>Writes one.</summary>
    /// <param name="order">What is to be made; nothing of it refused.</param>
    /// <param name="table">The reference table.</param>
    public static PreparationSheet Of(PreparationOrder order, ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(order);
        ArgumentNullException.ThrowIfNull(table);
        return new SheetWriter(order, table).Write();
    }
}

/// <summary>The carbonyl compound of a preparation.</summary>
/// <param name="Name">The parent, or that it is an unknown.</param>
/// <param name="Formula">Its formula in Hill order. Missing: an unknown.</param>
/// <param name="MolarMass">Units: g/mol.</param>
/// <param name="Milligrams">Units: mg.</param>
/// <param name="Millimoles">Units: mmol.</param>
/// <param name="Millilitres">Units: mL. Missing: no density was given.</param>
public sealed record CarbonylAmount(
    string Name, string? Formula, AmountSpan MolarMass, double Milligrams, AmountSpan Millimoles, double? Millilitres);

/// <summary>The reagent of a preparation: what of it reacts, free of acid and water, and the forms it is weighed in.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Formula">Its formula in Hill order.</param>
/// <param name="MolarMass">Units: g/mol.</param>
/// <param name="Millimoles">Units: mmol.</param>
/// <param name="Milligrams">Units: mg.</param>
/// <param name="Excess">Beyond what reacts with all of the carbonyl compound, as a share of that; below 0 some is missing.</param>
/// <param name="Forms">What is weighed, one or the other. Shape: empty where no form is listed.</param>
public sealed record ReagentAmount(
    string Name, string Formula, double MolarMass, double Millimoles, double Milligrams, AmountSpan Excess, IReadOnlyList<FormAmount> Forms);

/// <summary>A form of the reagent, weighed for as much as reacts.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Formula">Its formula, without the water it is wetted with. Missing: a mixture.</param>
/// <param name="MolarMass">Of that formula. Units: g/mol. Missing: a mixture.</param>
/// <param name="MassShare">How much of its mass that formula is. Missing: no source read says.</param>
/// <param name="Milligrams">What to weigh. Units: mg. Missing: no source read says how much of it is reagent.</param>
/// <param name="Millilitres">The same by volume. Units: mL. Missing: a solid, or no density read.</param>
/// <param name="CanExplode">Whether it can explode, dry or heated.</param>
/// <param name="Note">A remark. Missing: null.</param>
/// <param name="SourceKey">Source of share and density.</param>
public sealed record FormAmount(
    string Key, string Name, string? Formula, double? MolarMass, double? MassShare, double? Milligrams, double? Millilitres, bool CanExplode, string? Note, string SourceKey);

/// <summary>The derivative of a preparation.</summary>
/// <param name="Formula">Its formula in Hill order. Missing: that of an unknown.</param>
/// <param name="Balance">The mass balance in formulas.</param>
/// <param name="MolarMass">Units: g/mol.</param>
/// <param name="Millimoles">The most there can be. Units: mmol.</param>
/// <param name="TheoreticalMilligrams">Theoretical yield. Units: mg.</param>
/// <param name="Others">What else the same two may give, with another number of carbonyl groups condensed.</param>
public sealed record ProductAmount(
    string? Formula, string Balance, AmountSpan MolarMass, AmountSpan Millimoles, AmountSpan TheoreticalMilligrams, IReadOnlyList<OtherProduct> Others);

/// <summary>A derivative with another number of carbonyl groups condensed.</summary>
/// <param name="CarbonylsCondensed">How many.</param>
/// <param name="Formula">Its formula in Hill order.</param>
/// <param name="MolarMass">Units: g/mol.</param>
public sealed record OtherProduct(int CarbonylsCondensed, string Formula, double MolarMass);

/// <summary>The yield of a product that was weighed.</summary>
/// <param name="Milligrams">What was weighed. Units: mg.</param>
/// <param name="Share">Of the theoretical yield; above 1 it can't be all product.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record ProductYield(double Milligrams, AmountSpan Share, string Sentence);

/// <summary>A recipe for so many tests or derivatives.</summary>
/// <param name="Key">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Use">What it is made up for.</param>
/// <param name="Portions">For how many.</param>
/// <param name="Parts">What goes in, in this order.</param>
/// <param name="MillilitresEach">What one takes. Units: mL. Missing: it is mixed at once.</param>
/// <param name="MillilitresInAll">The whole. Units: mL. Missing: it is mixed at once.</param>
/// <param name="ReagentMolar">The reagent in it. Units: mol/L. Missing: it is mixed at once.</param>
/// <param name="ReagentMillimolesEach">The reagent one gets. Units: mmol. Missing: not known.</param>
/// <param name="Minutes">How long it stands or is heated. Units: min. Missing: the source does not say.</param>
/// <param name="Method">How it is put together.</param>
/// <param name="Note">A remark. Missing: null.</param>
/// <param name="SourceKey">The source that prints it.</param>
/// <param name="Locator">Page or section in it. Missing: null.</param>
/// <param name="Verification">How far it was followed back. Missing: there is nothing to read.</param>
public sealed record RecipeSheet(
    string Key,
    string Name,
    RecipeUse Use,
    int Portions,
    IReadOnlyList<PartAmount> Parts,
    double? MillilitresEach,
    double? MillilitresInAll,
    double? ReagentMolar,
    double? ReagentMillimolesEach,
    double? Minutes,
    string Method,
    string? Note,
    string SourceKey,
    string? Locator,
    Verification? Verification)
{
    /// <summary>What it is made up for, such as "12 tests, 3 mL each".</summary>
    public string Purpose() => Figure.Count(Portions, Use == RecipeUse.Tests ? "test" : "derivative")
        + (MillilitresEach is { } millilitres ? $", {Figure.Measured(millilitres)} mL each" : "");
}

/// <summary>One thing that goes into a recipe.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Grams">Units: g. Missing: by volume, or as printed.</param>
/// <param name="Millilitres">Units: mL. Missing: by mass, or as printed.</param>
/// <param name="AsPrinted">How much in the words of the source, for the amount it prints. Missing: a plain figure.</param>
/// <param name="Instead">The same reagent wetted with water. Missing: null, none is listed.</param>
public sealed record PartAmount(string Name, double? Grams, double? Millilitres, string? AsPrinted, PartInstead? Instead)
{
    /// <summary>What is weighed out: of a reagent that can explode when dry the wetted one.</summary>
    public string Weighed() => Instead?.Name ?? Name;

    /// <summary>How much, such as "3.07 g (2.06 g without the water)".</summary>
    public string InWords()
    {
        var measured = Grams is { } grams ? Figure.Mass(grams * 1000) : Millilitres is { } millilitres ? $"{Figure.Measured(millilitres)} mL" : null;
        return measured is null ? $"printed: {AsPrinted}"
            : Instead is { } instead ? $"{Figure.Mass(instead.Grams * 1000)} ({measured} without the water)"
            : measured;
    }
}

/// <summary>What is weighed in the place of a dry reagent.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Grams">Units: g.</param>
public sealed record PartInstead(string Name, double Grams);

/// <summary>One piece of advice, with its source.</summary>
/// <param name="Topic">What it is about.</param>
/// <param name="Text">What to do, or what is seen.</param>
/// <param name="Why">Why. Missing: null.</param>
/// <param name="SourceKey">Where it is from.</param>
/// <param name="Locator">Page or section in it. Missing: null.</param>
/// <param name="Verification">How far it was followed back. Missing: there is nothing to read.</param>
public sealed record AdviceSheet(
    AdviceTopic Topic, string Text, string? Why, string SourceKey, string? Locator, Verification? Verification)
{
    /// <summary>The advice with its reason.</summary>
    public string InWords() => Why is { } why ? $"{Text.TrimEnd('.')}. {why}" : Text;

    /// <summary>What pieces of advice are about, as a heading.</summary>
    /// <param name="topic">The topic.</param>
    public static string Heading(AdviceTopic topic) => topic switch
    {
        AdviceTopic.Mixing => "Mixing",
        AdviceTopic.Waiting => "Before it is nothing",
        AdviceTopic.Failure => "What a failure looks like",
        AdviceTopic.Washing => "Washing",
        AdviceTopic.Recrystallising => "Recrystallising, in the order of trying",
        AdviceTopic.Drying => "Drying",
        AdviceTopic.Waste => "Waste",
    };
}

/// <summary>The usual cautions for one thing that is handled.</summary>
/// <param name="Subject">What is handled.</param>
/// <param name="CanExplode">Whether it can explode.</param>
/// <param name="Text">The cautions.</param>
public sealed record CautionOfSheet(string Subject, bool CanExplode, string Text);

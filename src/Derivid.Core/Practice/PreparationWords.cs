namespace Derivid.Core.Practice;

/// <summary>Amounts of a preparation as people read them, at a terminal and on paper.</summary>
public static class PreparationWords
{
    /// <summary>What a piece of advice is about, as a heading.</summary>
    /// <param name="topic">The topic.</param>
    public static string Of(AdviceTopic topic) => topic switch
    {
        AdviceTopic.Mixing => "Mixing",
        AdviceTopic.Waiting => "Before it is nothing",
        AdviceTopic.Failure => "What a failure looks like",
        AdviceTopic.Washing => "Washing",
        AdviceTopic.Recrystallising => "Recrystallising, in the order of trying",
        AdviceTopic.Drying => "Drying",
        AdviceTopic.Waste => "Waste",
    };

    /// <summary>A figure of a balance or a measuring cylinder: three digits that count.</summary>
    /// <param name="amount">The amount.</param>
    public static string Figures(double amount) => Figure.Text(amount, Decimals(amount));

    /// <summary>The same of a span; one figure where both ends read the same.</summary>
    /// <param name="amount">The amount.</param>
    public static string Figures(AmountSpan amount) => Figure.Span(amount.Low, amount.High, Decimals(amount.High));

    /// <summary>A mass, in g from 1 g on.</summary>
    /// <param name="milligrams">Units: mg.</param>
    public static string Mass(double milligrams) => milligrams < 1000 ? $"{Figures(milligrams)} mg" : $"{Figures(milligrams / 1000)} g";

    /// <summary>A share as a percentage; not a probability, so it may be above 100.</summary>
    /// <param name="share">The share.</param>
    public static string Percent(AmountSpan share) => $"{Figure.Span(100 * share.Low, 100 * share.High, decimals: 1)} %";

    /// <summary>How much of one thing goes into a recipe.</summary>
    /// <param name="part">The thing.</param>
    public static string Amount(PartAmount part)
    {
        ArgumentNullException.ThrowIfNull(part);
        var measured = part.Grams is { } grams ? Mass(grams * 1000) : part.Millilitres is { } millilitres ? $"{Figures(millilitres)} mL" : null;
        return measured is null ? $"printed: {part.AsPrinted}"
            : part.Instead is { } instead ? $"{measured}, or {Mass(instead.Grams * 1000)} wetted"
            : measured;
    }

    /// <summary>A piece of advice with its reason.</summary>
    /// <param name="advice">The advice.</param>
    public static string Of(AdviceSheet advice)
    {
        ArgumentNullException.ThrowIfNull(advice);
        return advice.Why is { } why ? $"{advice.Text.TrimEnd('.')}. {why}" : advice.Text;
    }

    /// <summary>What a recipe is made up for.</summary>
    /// <param name="recipe">The recipe.</param>
    public static string For(RecipeSheet recipe)
    {
        ArgumentNullException.ThrowIfNull(recipe);
        var each = recipe.MillilitresEach is { } millilitres ? $", {Figures(millilitres)} mL each" : "";
        return recipe.Use == RecipeUse.Tests
            ? Figure.Count(recipe.Portions, "test") + each
            : Figure.Count(recipe.Portions, "derivative") + each;
    }

    private static int Decimals(double amount) => Math.Abs(amount) switch
    {
        >= 100 => 0,
        >= 10 => 1,
        >= 1 => 2,
        _ => 3,
    };
}

using Derivid.Core;
using Derivid.Core.Practice;
using Spectre.Console;

namespace Derivid.Cli.Practice;

/// <summary>Shows a preparation to people.</summary>
internal static class PreparationView
{
    public static void Write(IAnsiConsole console, PreparationSheet sheet)
    {
        console.Write(new Text(Screen.Capital(sheet.Title) + "\n", new Style(decoration: Decoration.Bold)));
        WriteCautions(console, sheet);
        console.Write(Amounts(sheet));
        console.WriteLine(sheet.LimitingSentence);
        console.WriteLine($"Balance: {sheet.Product.Balance}");
        foreach (var other in sheet.Product.Others)
        {
            console.WriteLine($"With {Figure.Count(other.CarbonylsCondensed, "carbonyl group")} condensed: {other.Formula}, {Figure.Text(other.MolarMass, 2)} g/mol");
        }

        if (sheet.Yield is { } yield)
        {
            console.WriteLine($"Yield: {Figure.Mass(yield.Milligrams)}, {yield.Sentence}");
        }

        console.WriteLine();
        foreach (var recipe in sheet.Recipes)
        {
            WriteRecipe(console, recipe);
        }

        foreach (var topic in sheet.Advice.GroupBy(advice => advice.Topic))
        {
            console.WriteLines(AdviceSheet.Heading(topic.Key), topic.Select(advice =>
                $"{advice.InWords()} [{advice.SourceKey}]"));
        }

        console.WriteLines("Expect", Expected(sheet));
        console.WriteLines("No source read says", sheet.Unsourced);
        console.WriteLines("Sources", sheet.Sources.Select(source => $"{source.Key}: {source.Citation}"));
        console.WriteLine($"table version {Figures.Plain(sheet.TableVersion)}");
    }

    // First of all, as on the page.
    private static void WriteCautions(IAnsiConsole console, PreparationSheet sheet) => console.WriteLines(
        "Cautions (local rules come first)",
        [.. sheet.Cautions.Select(caution => $"{Screen.Capital(caution.Subject)}{(caution.CanExplode ? " (can explode)" : "")}: {caution.Text}"), sheet.Deferral]);

    private static Table Amounts(PreparationSheet sheet)
    {
        var table = Screen.NewTable("", "formula", "g/mol", "mmol", "mg", "mL");
        table.AddTexts(
            sheet.Carbonyl.Name, sheet.Carbonyl.Formula, Figure.Span(sheet.Carbonyl.MolarMass.Low, sheet.Carbonyl.MolarMass.High, 2),
            sheet.Carbonyl.Millimoles.Measured(), Figure.Measured(sheet.Carbonyl.Milligrams), Millilitres(sheet.Carbonyl.Millilitres));
        table.AddTexts(
            sheet.Reagent.Name + ", what reacts", sheet.Reagent.Formula, Figure.Text(sheet.Reagent.MolarMass, 2),
            Figure.Measured(sheet.Reagent.Millimoles), Figure.Measured(sheet.Reagent.Milligrams));
        foreach (var form in sheet.Reagent.Forms)
        {
            table.AddTexts(
                "weighed as " + form.Name, form.Formula, form.MolarMass is { } molarMass ? Figure.Text(molarMass, 2) : null,
                Figure.Measured(sheet.Reagent.Millimoles),
                form.Milligrams is { } milligrams ? Figure.Measured(milligrams) : "no source",
                Millilitres(form.Millilitres));
        }

        table.AddTexts(
            "theoretical yield", sheet.Product.Formula, Figure.Span(sheet.Product.MolarMass.Low, sheet.Product.MolarMass.High, 2),
            sheet.Product.Millimoles.Measured(), sheet.Product.TheoreticalMilligrams.Measured());
        return table;
    }

    private static string? Millilitres(double? amount) => amount is { } millilitres ? Figure.Measured(millilitres) : null;

    private static void WriteRecipe(IAnsiConsole console, RecipeSheet recipe) => console.WriteLines(
        $"{Screen.Capital(recipe.Name)}, for {recipe.Purpose()} [{recipe.SourceKey}]",
        [.. recipe.Parts.Select(part => $"{part.Weighed()}: {part.InWords()}"), recipe.Method, .. recipe.Note is { } note ? new[] { note } : []]);

    private static IEnumerable<string> Expected(PreparationSheet sheet)
    {
        yield return $"about {Figure.Text(sheet.Minutes, 0)} min to make, dry and melt it";
        yield return $"colour: {sheet.Colour ?? "nothing is recorded"}";
        yield return sheet.WaitMinutes is { } wait ? $"nothing after {Figure.Text(wait, 0)} min is nothing" : "how long to wait before it is nothing: no source";
        if (sheet.ListedCelsius is { } listed)
        {
            yield return $"listed to melt at {Figure.Range(listed.Low, listed.High)}";
        }
    }
}

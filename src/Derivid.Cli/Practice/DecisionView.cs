using Derivid.Core;
using Derivid.Core.Practice.Decisions;
using Spectre.Console;

namespace Derivid.Cli.Practice;

/// <summary>Shows decisions to people.</summary>
internal static class DecisionView
{
    public static void Write(IAnsiConsole console, DecisionSheet sheet)
    {
        Head(console, $"{sheet.Compounds.Count} compounds: {string.Join(", ", sheet.Compounds.Select(compound => compound.Name))}");
        console.WriteLine(sheet.Summary);
        console.WriteLine();
        foreach (var point in sheet.Points)
        {
            Head(console, $"{point.Number}. {point.Heading()}");
            foreach (var outcome in point.Branches)
            {
                console.Write(new Text($"  {outcome.Words}: {outcome.LeadsTo()}\n"));
            }

            console.WriteLine();
        }

        console.WriteLines("Cautions (local rules come first)", sheet.Cautions.Append(sheet.Deferral));
        console.WriteLine($"table version {Figures.Plain(sheet.TableVersion)}, model version {sheet.ModelVersion}");
    }

    public static void WriteForecast(IAnsiConsole console, StepForecast forecast)
    {
        Head(console, forecast.Step.Words);
        console.WriteLine($"Now: {DecisionWords.Of(forecast.Now, forecast.NoneOfThese)}");
        console.WriteLine($"Another compound would lead with probability {Figure.Text(forecast.ChangesLeader, 2)}.");
        var table = Screen.NewTable("seen", "how likely", "then");
        foreach (var outcome in forecast.Outcomes)
        {
            table.AddTexts(
                outcome.Words, DecisionWords.Percent(outcome.Probability), DecisionWords.Of(outcome.Candidates, outcome.NoneOfThese));
        }

        console.Write(table);
        if (forecast.Cautions is { } cautions)
        {
            console.Write(new Text(cautions + "\n"));
        }

        console.WriteLine($"table version {Figures.Plain(forecast.TableVersion)}, model version {forecast.ModelVersion}");
    }

    private static void Head(IAnsiConsole console, string text) =>
        console.Write(new Text(Screen.Capital(text) + "\n", new Style(decoration: Decoration.Bold)));
}

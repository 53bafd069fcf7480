using Derivid.Core.Practice;
using Spectre.Console;

namespace Derivid.Cli.Practice;

/// <summary>Shows a reading guide to people.</summary>
internal static class ReadingGuideView
{
    public static void Write(IAnsiConsole console, ReadingGuide guide)
    {
        console.WriteLines($"Reading the melting range of {guide.Title}", [guide.ExpectedInWords()]);
        console.WriteLines(
            "Cautions (local rules come first)",
            [.. guide.Cautions.Select(caution => $"{Screen.Capital(caution.Subject)}{(caution.CanExplode ? " (can explode)" : "")}: {caution.Text}"), guide.Deferral]);
        WriteSteps(console, guide);
        console.WriteLines("Thermometer", guide.Thermometer is { } there ? [there.Sentence] : []);
        foreach (var topic in guide.Advice.GroupBy(advice => advice.Topic))
        {
            console.WriteLines(ReadingAdvice.Heading(topic.Key), topic.Select(advice => $"{advice.InWords()} [{advice.SourceKey}]"));
        }

        console.WriteLines("Purity", PurityOf(guide));
        console.WriteLines("Another recrystallisation", guide.Recrystallisation is { } worth ? [worth.Sentence] : []);
        console.WriteLines("Sources", guide.Sources.Select(source => $"{source.Key}: {source.Citation}"));
        console.WriteLine($"table version {Figures.Plain(guide.TableVersion)}");
    }

    // A table that nothing wraps would be as wide as its longest step: elsewhere than on a terminal they are lines.
    private static void WriteSteps(IAnsiConsole console, ReadingGuide guide)
    {
        if (!console.Profile.Capabilities.Interactive)
        {
            console.WriteLines("Heating", guide.Steps.SelectMany((step, place) => Lines(step, place + 1)));
        }
        else if (guide.Steps.Count > 0)
        {
            var table = Screen.NewTable("", "do", "°C", "°C/min", "min");
            foreach (var (place, step) in guide.Steps.Index())
            {
                table.AddTexts(
                    Figures.Plain(place + 1), $"{step.Text} {step.Why}{Cited(step)}", step.CelsiusInWords(), step.RateInWords(), step.MinutesInWords());
            }

            console.Write(table);
        }

        if (guide.Steps.Count > 0)
        {
            console.Write(new Text($"{guide.MinutesInWords()}\n\n"));
        }
    }

    private static IEnumerable<string> Lines(HeatingStep step, int place)
    {
        yield return $"{Figures.Plain(place)}. {step.Text}{Cited(step)}";
        yield return $"   {step.Why}";
        string[] figures = [Unit(step.CelsiusInWords(), "°C"), Unit(step.RateInWords(), "°C/min"), Unit(step.MinutesInWords(), "min")];
        yield return $"   {string.Join(", ", figures.Where(figure => figure.Length > 0))}";
    }

    private static string Unit(string figure, string unit) => figure.Length == 0 ? "" : $"{figure} {unit}";

    private static string Cited(HeatingStep step) => step.SourceKeys.Count == 0 ? "" : $" [{string.Join(", ", step.SourceKeys)}]";

    private static IEnumerable<string> PurityOf(ReadingGuide guide)
    {
        if (guide.PurityMissing is { } missing)
        {
            yield return missing;
        }

        if (guide.Purity is { } purity)
        {
            yield return purity.Sentence;
            foreach (var figure in purity.Figures())
            {
                yield return $"{figure.Name}: {figure.Value}";
            }
        }
    }
}

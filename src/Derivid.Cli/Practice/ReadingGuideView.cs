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
        if (guide.Steps.Count > 0)
        {
            var table = Screen.NewTable("", "do", "°C", "°C/min", "min");
            foreach (var (place, step) in guide.Steps.Index())
            {
                table.AddTexts(
                    Figures.Plain(place + 1),
                    $"{step.Text} {step.Why}{(step.SourceKeys.Count == 0 ? "" : $" [{string.Join(", ", step.SourceKeys)}]")}",
                    step.CelsiusInWords(), step.RateInWords(), step.MinutesInWords());
            }

            console.Write(table);
            console.Write(new Text($"{guide.MinutesInWords()}\n\n"));
        }

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

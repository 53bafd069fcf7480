using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Ranking;
using Spectre.Console;

namespace Derivid.Cli.Identify;

/// <summary>Shows an identification to people.</summary>
internal static class IdentificationView
{
    private const int StepsShown = 3;

    public static void Write(IAnsiConsole console, IdentificationReply answer)
    {
        console.WriteLine(answer.Summary);
        console.Write(Ranking(answer));
        WriteLines(console, "", answer.Groups.Select(group => group.Sentence).Where(sentence => !answer.Summary.EndsWith(sentence, StringComparison.Ordinal)));
        if (answer.Candidates is [var leading, ..])
        {
            WriteLines(console, $"What is behind {leading.Parent.Name}:", [.. leading.Evidence.Select(Weighed), .. leading.HowCommon is { } common ? new[] { common } : []]);
        }

        WriteLines(console, "Next:", answer.NextSteps.Take(StepsShown).Select(Step));
        WriteLines(console, "Careful with this answer:", answer.Warnings, Color.Yellow);
        WriteLines(console, "Cautions (local rules come first):", answer.Cautions);
        console.WriteLine($"id {answer.Id}, table version {Figures.Plain(answer.TableVersion)}, model {answer.ModelVersion}");
    }

    public static void WriteBatch(IAnsiConsole console, BatchReply answer)
    {
        var table = Screen.NewTable("#", "reference", "compound", "probability");
        foreach (var (place, item) in answer.Items.Index())
        {
            var first = item.Identification?.Candidates is [var leading, ..] ? leading : null;
            table.AddTexts(
                Figures.Plain(place + 1),
                item.Reference,
                item.Problem is null ? first?.Parent.Name : "refused",
                first is null ? null : Figure.Percent(first.Posterior));
        }

        console.Write(table);
        console.WriteLines("Refused:", answer.Items.Index().SelectMany(item => Refused(item.Index + 1, item.Item)));
        console.WriteLine($"{Figures.Plain(answer.Identified)} identified, {Figures.Plain(answer.Refused)} refused, {Figures.Plain(answer.Items.Count(item => item.IsStored == true))} kept on the service");
    }

    private static Table Ranking(IdentificationReply answer)
    {
        var table = Screen.NewTable("#", "compound", "formula", "CAS number", "probability");
        table.Columns[0].RightAligned();
        table.Columns[4].RightAligned();
        foreach (var candidate in answer.Candidates)
        {
            table.AddTexts(
                Figures.Plain(candidate.Rank),
                candidate.Parent.Name,
                candidate.Parent.Formula,
                candidate.Parent.CasNumber,
                Figure.Percent(candidate.Posterior));
        }

        table.AddTexts("", "none of the compounds considered", "", "", Figure.Percent(answer.NoneOfThese.Posterior));
        return table;
    }

    private static string Weighed(Evidence evidence) =>
        $"{Figure.WithSign(evidence.LogLikelihoodRatio, decimals: 1)}  {evidence.Sentence}";

    private static string Step(NextStep step) =>
        $"{step.Name} ({Figures.Plain(step.Minutes)} min, {WireJson.Word(step.Hazard)} hazard): {step.Sentence}";

    private static IEnumerable<string> Refused(int number, BatchResult item) => item.Problem is not { } problem ? []
        : [$"{Figures.Plain(number)}{(item.Reference is { } reference ? $", {reference}" : "")}: {Advice.InOwnWords(problem.Detail)}", .. Refusal.Faults(problem).Select(fault => "  " + fault)];

    private static void WriteLines(
        IAnsiConsole console, string heading, IEnumerable<string> lines, Color? colour = null)
    {
        var texts = lines.ToList();
        if (texts.Count == 0)
        {
            return;
        }

        if (heading.Length > 0)
        {
            console.Write(new Text(heading + "\n", new Style(decoration: Decoration.Bold)));
        }

        foreach (var text in texts)
        {
            console.Write(new Text($"  {text}\n", new Style(foreground: colour)));
        }

        console.WriteLine();
    }
}

using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid learn</c>.</summary>
internal static class LearnCommand
{
    public static Command Make(CommonOptions common)
    {
        var propose = new Option<bool>("--propose") { Description = "Make a proposal of it, to be reviewed and released. Default: only look." };
        var title = new Option<string?>("--title") { Description = "What the proposal is about. Default: said by what was learned.", HelpName = "TEXT" };
        var reason = ReasonOption.Make();
        var idempotencyKey = new Option<string?>("--idempotency-key")
        {
            Description = "A word of your own for this proposal: the same command with the same word makes no other.",
            HelpName = "TEXT",
        };
        var command = new ExampledCommand("learn", "What the table can learn from classes that opted in, once their grades are published; needs an instructor's key.")
        {
            Examples =
            [
                ("only look", "derivid learn"),
                ("propose it", "derivid learn --propose --reason 'Three years of the practical'"),
            ],
        };
        foreach (var option in (Option[])[propose, title, reason, idempotencyKey])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            if (parsed.GetValue(propose))
            {
                session.Show(
                    await session.Client.Proposals.ProposeLearnedAsync(
                        new LearningRequest { Title = parsed.GetValue(title) }, parsed.GetValue(reason), parsed.GetValue(idempotencyKey), token),
                    (console, proposal) => console.WriteLine($"{proposal.Title}: proposal {proposal.Id}. Look at it with 'derivid proposals show {proposal.Id}'."));
            }
            else
            {
                session.Show(await session.Client.Proposals.GetLearningAsync(token), Write);
            }

            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, LearningItem learning)
    {
        if (learning.SpotTests.Count > 0)
        {
            var rates = Screen.NewTable("spot test", "for", "reports", "compounds", "assumed", "learned", "nine times of ten");
            foreach (var rate in learning.SpotTests)
            {
                rates.AddTexts(
                    rate.TestKey, rate.AppliesTo, Figures.Plain(rate.Reports), Figures.Plain(rate.Compounds), Figure.Text(rate.Assumed, decimals: 2),
                    Figure.Text(rate.Learned, decimals: 2), $"{Figure.Text(rate.Low, decimals: 2)} to {Figure.Text(rate.High, decimals: 2)}");
            }

            console.Write(rates);
        }

        if (learning.Colours.Count > 0)
        {
            var colours = Screen.NewTable("colour of", "for", "calls", "compounds", "assumed, by rank", "learned");
            foreach (var row in learning.Colours)
            {
                colours.AddTexts(row.KindKey, row.StructureClass, Figures.Plain(row.Calls), Figures.Plain(row.Compounds), Shares(row.Assumed), Shares(row.Learned));
            }

            console.Write(colours);
        }

        if (learning.Measured.Count > 0)
        {
            var measured = Screen.NewTable("compound", "kind", "crystals", "thermometers", "readings", "courses", "mean, °C", "spread, °C", "proposed");
            foreach (var row in learning.Measured)
            {
                measured.AddTexts(
                    row.ParentKey, row.KindKey, WireJson.Word(row.Preparation), row.IsCalibrated ? "checked" : "not checked", Figures.Plain(row.Readings),
                    Figures.Plain(row.Courses), Figure.Text(row.MeanCelsius, decimals: 1), Figure.Text(row.SpreadCelsius, decimals: 1), row.IsProposed ? "yes" : "no");
            }

            console.Write(measured);
        }

        console.WriteLine($"Version {learning.TableVersion}: {Figure.Count(learning.Courses, "course")} counted, {learning.Waiting} more {(learning.Waiting == 1 ? "waits" : "wait")}{(learning.Waiting > 0 ? " until another has the same from five students at least" : "")}; {Figure.Count(learning.Changes, "record")} would change.");
        if (learning.OpenSince is { } since)
        {
            console.WriteLine($"Unknowns are out since {Figures.Day(since)}: a course published later waits until grades on them are published.");
        }
    }

    private static string Shares(IReadOnlyList<double> shares) => string.Join(' ', shares.Select(share => Figure.Text(share, decimals: 2)));
}

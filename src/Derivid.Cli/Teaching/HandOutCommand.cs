using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course hand-out</c>.</summary>
internal static class HandOutCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var seed = new Option<string?>("--seed")
        {
            Description = "A text from which the same hand-out is drawn again in this course. Default: one is made and told.",
            HelpName = "TEXT",
        };
        var each = new Option<int?>("--unknowns") { Description = "Unknowns for each student, all different. Default: 1.", HelpName = "NUMBER" };
        var least = OptionOf.Number("--least-probability", "0-1", "What ideal readings must give a compound for it to be handed out. Default: 0.8.");
        var hardest = OptionOf.Number("--largest-difficulty", "0-1", "Compounds harder than this are left out: 0 is easy, 1 hopeless. Default: 1.");
        var all = new Option<bool>("--unidentifiable") { Description = "Hand out what can't be identified all the same." };
        var key = CourseCommand.IdempotencyKey("hand-out");
        var command = new ExampledCommand("hand-out", "Hand out unknowns to the students, neighbours different ones. What is inside is told by filling.")
        {
            Examples =
            [
                ("one each", "derivid course hand-out 0123456789abcdef"),
                ("two each, none of them hard", "derivid course hand-out 0123456789abcdef --unknowns 2 --largest-difficulty 0.5"),
            ],
        };
        command.Add(id);
        foreach (var option in (Option[])[seed, each, least, hardest, all, key])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var made = await session.Client.Courses.HandOutAsync(
                parsed.GetRequiredValue(id),
                new HandOutRequest
                {
                    Seed = parsed.GetValue(seed),
                    UnknownsPerStudent = parsed.GetValue(each),
                    LeastPosterior = parsed.GetValue(least),
                    LargestDifficulty = parsed.GetValue(hardest),
                    HandsOutUnidentifiable = parsed.GetValue(all) ? true : null,
                },
                parsed.GetValue(key),
                token);
            session.Show(made, Write);
            CourseCommand.Warn(session, made.Summary.Remarks);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, HandOutItem handOut)
    {
        console.WriteLine($"hand-out {Figures.Plain(handOut.Number)}: {Figure.Count(handOut.Summary.Uses.Values.Sum(), "unknown")} of {Figure.Count(handOut.Summary.Uses.Count(use => use.Value > 0), "compound")}");
        console.WriteLine($"drawn from \"{handOut.Seed}\"; keep it as secret as the answers");
    }
}

/// <summary><c>derivid course labels</c>.</summary>
internal static class LabelsCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var output = OutputOption.Make("the labels, HTML");
        var command = new ExampledCommand("labels", "A page of labels for the vials, to print. They say nothing of what is inside.")
        {
            Examples = [("to print", "derivid course labels 0123456789abcdef -o labels.html")],
        };
        command.Add(id);
        command.Add(output);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var labels = await session.Client.Courses.GetLabelsAsync(parsed.GetRequiredValue(id), token);
            await using var target = new StreamWriter(Files.Create(parsed.GetValue(output) ?? Files.Standard, session.Around));
            await target.WriteAsync(labels);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid course filling</c>.</summary>
internal static class FillingCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var millilitres = OptionOf.Number("--millilitres", "mL", "In a vial of a liquid. Default: no volumes are told.");
        var milligrams = OptionOf.Number("--milligrams", "mg", "In a vial of a solid. Default: no masses are told.");
        var output = OutputOption.Make("a row for each vial, CSV, as well");
        var command = new ExampledCommand("filling", "What to fill into which vials, compound by compound. As secret as the answers.")
        {
            Examples =
            [
                ("with amounts", "derivid course filling 0123456789abcdef --millilitres 2 --milligrams 500"),
                ("for a spreadsheet", "derivid course filling 0123456789abcdef -o filling.csv"),
            ],
        };
        command.Add(id);
        foreach (var option in (Option[])[millilitres, milligrams, output])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var course = parsed.GetRequiredValue(id);
            var query = new FillingQuery { VialMillilitres = parsed.GetValue(millilitres), VialMilligrams = parsed.GetValue(milligrams) };
            var list = await session.Client.Courses.GetFillingListAsync(course, query, token);
            await OutputOption.CopyAsync(
                parsed.GetValue(output), () => session.Client.Courses.ExportFillingListAsync(course, query, token), session, token);
            session.Show(list, Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, FillingList list)
    {
        var table = Screen.NewTable("compound", "vials", "mL", "mg", "bench", "codes", "caution");
        foreach (var item in list.Items)
        {
            foreach (var (bench, place) in item.Benches.Select((bench, place) => (bench, place)))
            {
                table.AddTexts(
                    place == 0 ? item.Name : null,
                    place == 0 ? Figures.Plain(item.Vials) : null,
                    place == 0 && item.Millilitres is { } volume ? Figure.Text(volume, 2) : null,
                    place == 0 && item.Milligrams is { } mass ? Figure.Text(mass, 1) : null,
                    bench.Bench,
                    string.Join(' ', bench.Codes),
                    place == 0 ? item.Hazards : null);
            }
        }

        console.Write(table);
    }
}

/// <summary>The option that names a file to write.</summary>
internal static class OutputOption
{
    public static Option<string?> Make(string content) => new("--output", "-o")
    {
        Description = $"Write {content}, to this file.",
        HelpName = "FILE",
    };

    /// <summary>Copies what the service exports into a file; nothing where none is named.</summary>
    public static async Task CopyAsync(string? file, Func<Task<Stream>> export, Session session, CancellationToken cancellationToken)
    {
        if (file is null)
        {
            return;
        }

        await using var exported = await export();
        await using var target = Files.Create(file, session.Around);
        await exported.CopyToAsync(target, cancellationToken);
    }
}

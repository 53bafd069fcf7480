using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Curation.Readings;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid verify</c>.</summary>
internal static class VerifyCommand
{
    public static Command Make(CommonOptions common) =>
        new("verify", "Type values of the table from a book, blind to what the table has; needs an instructor's key.")
        {
            VerifyFirstCommand.Make(common),
            VerifySheetCommand.Make(common),
            VerifySendCommand.Make(common),
            VerifyProgressCommand.Make(common),
        };

    internal static Option<string?> Proposal(string description) => new("--proposal") { Description = description, HelpName = "ID" };
}

/// <summary><c>derivid verify first</c>.</summary>
internal static class VerifyFirstCommand
{
    public static Command Make(CommonOptions common)
    {
        var unknowns = new Option<UnknownsOf?>("--unknowns") { Description = "anyone (as common as the table says) or courses (the shelves of courses with unknowns handed out whose staff you are of). Default: anyone.", HelpName = "WHOSE" };
        var kinds = OptionOf.Many("--kind", "KIND", "A kind of derivative, by key. Default: all.", text => text);
        var limit = new Option<int?>("--limit") { Description = $"Most lines. Default: {WorthQuery.DefaultLines}.", HelpName = "COUNT" };
        var command = new ExampledCommand("first", "List what is most worth checking: where a value read makes the most first answers right.")
        {
            Examples =
            [
                ("the first ten", "derivid verify first --limit 10"),
                ("for your own courses", "derivid verify first --unknowns courses"),
            ],
        };
        foreach (var option in (Option[])[unknowns, kinds, limit])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(
                await session.Client.Verification.GetWorthCheckingAsync(
                    new WorthQuery
                    {
                        Unknowns = parsed.GetValue(unknowns),
                        Kinds = parsed.GetValue(kinds) is { Length: > 0 } named ? string.Join(',', named) : null,
                        Limit = parsed.GetValue(limit),
                    },
                    token),
                Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, WorthChecking worth)
    {
        var table = Screen.NewTable("", "compound", "kind", "form", "more right of 1,000", "line");
        foreach (var line in worth.Lines)
        {
            table.AddTexts(
                Figures.Plain(line.Rank), line.Name, line.CarbonylsCondensed == 2 ? line.Kind + ", bis" : line.Kind, line.Form ?? "",
                Figure.Text(line.MoreRight, decimals: 2), line.Key);
        }

        console.Write(table);
        console.WriteLine(
            $"Version {worth.TableVersion}: {worth.Unread} lines have no value that was read or confirmed. Of {worth.Compared} lines whose recalled value was held against a source, {worth.Apart} were more than 3 °C from the nearest.");
    }
}

/// <summary><c>derivid verify sheet</c>.</summary>
internal static class VerifySheetCommand
{
    public static Command Make(CommonOptions common)
    {
        var source = new Argument<string>("source") { Description = "Key of the source." };
        var kinds = OptionOf.Many("--kind", "KIND", "A kind of derivative that the page lists, by key. Default: all.", text => text);
        var order = new Option<SheetOrder?>("--order") { Description = "The book's order: name, boilingPoint, molarMass or locator. Default: name.", HelpName = "ORDER" };
        var scope = new Option<SheetScope?>("--scope") { Description = "recalled (nobody has read them), unread (in this source) or all. Default: recalled.", HelpName = "SCOPE" };
        var from = new Option<string?>("--from") { Description = "The beginning of the name of the page's first compound.", HelpName = "NAME" };
        var first = new Option<int?>("--first") { Description = "Only lines among the first so many that 'derivid verify first' lists. Default: all.", HelpName = "COUNT" };
        var limit = new Option<int?>("--limit") { Description = $"Most lines. Default: {SheetQuery.DefaultLimit}.", HelpName = "COUNT" };
        var proposal = VerifyCommand.Proposal("The draft that adds the source. Default: none, the table has it.");
        var output = new Option<string?>("--output", "-o") { Description = "File to write. Default: standard output.", HelpName = "FILE" };
        var command = new ExampledCommand("sheet", "Write a sheet as CSV, to be filled in with what the book prints.")
        {
            Examples =
            [
                ("a page of oximes and semicarbazones", "derivid verify sheet my-handbook-1937 --kind oxime --kind semicarbazone -o page-212.csv"),
                ("the fifty lines most worth checking", "derivid verify sheet my-handbook-1937 --first 50 --limit 50 > first.csv"),
                ("a page that begins with benzaldehyde", "derivid verify sheet my-handbook-1937 --kind oxime --from benzaldehyde > page-213.csv"),
            ],
        };
        command.Add(source);
        foreach (var option in (Option[])[kinds, order, scope, from, first, limit, proposal, output])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var query = new SheetQuery
            {
                SourceKey = parsed.GetRequiredValue(source),
                Kinds = parsed.GetValue(kinds) is { Length: > 0 } named ? string.Join(',', named) : null,
                Order = parsed.GetValue(order),
                Scope = parsed.GetValue(scope),
                From = parsed.GetValue(from),
                First = parsed.GetValue(first),
                Limit = parsed.GetValue(limit),
                Proposal = parsed.GetValue(proposal),
            };
            if (session.AsJson)
            {
                session.Show(await session.Client.Verification.GetSheetAsync(query, token), (_, _) => { });
                return ExitCode.Done;
            }

            await using var sheet = await session.Client.Verification.ExportSheetAsync(query, token);
            await using var target = Files.Create(parsed.GetValue(output) ?? Files.Standard, session.Around);
            await sheet.CopyToAsync(target, token);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid verify send</c>.</summary>
internal static class VerifySendCommand
{
    public static Command Make(CommonOptions common)
    {
        var file = new Argument<string>("file") { Description = "The sheet filled in; - is standard input." };
        var source = new Option<string>("--source") { Description = "Key of the source it was typed from.", HelpName = "KEY", Required = true };
        var locator = new Option<string?>("--locator") { Description = "Page, table or entry in it.", HelpName = "TEXT" };
        var proposal = VerifyCommand.Proposal("The draft that what follows goes into. Default: a new proposal.");
        var reason = ReasonOption.Make();
        var idempotencyKey = new Option<string?>("--idempotency-key")
        {
            Description = "A word of your own for this sheet: the same command with the same word keeps nothing twice.",
            HelpName = "TEXT",
        };
        var command = new ExampledCommand("send", "Send a sheet filled in; shows what became of each line.")
        {
            Examples = [("page 212", "derivid verify send page-212.csv --source my-handbook-1937 --locator 'p. 212'")],
        };
        command.Add(file);
        foreach (var option in (Option[])[source, locator, proposal, reason, idempotencyKey])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var csv = await Files.ReadAsync(parsed.GetRequiredValue(file), session.Around, token);
            session.Show(
                await session.Client.Verification.SendAsync(
                    new ReadingsQuery
                    {
                        SourceKey = parsed.GetRequiredValue(source),
                        Locator = parsed.GetValue(locator),
                        Proposal = parsed.GetValue(proposal),
                    },
                    csv, parsed.GetValue(reason), parsed.GetValue(idempotencyKey), token),
                Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, ReadSheetItem sheet)
    {
        var table = Screen.NewTable("line", "printed", "listed", "verdict");
        foreach (var line in sheet.Lines)
        {
            table.AddTexts(
                line.Key,
                line.AsPrinted is null ? "none" : $"{line.AsPrinted} {line.ColourKey}".TrimEnd(),
                string.Join("; ", line.Listed.Select(row => $"{row.AsPrinted} ({row.SourceKey})")),
                WireJson.Word(line.Verdict));
        }

        console.Write(table);
        console.WriteLine(sheet.ProposalId is { } proposal
            ? $"What follows is in proposal {proposal}."
            : "Nothing follows from it yet.");
    }
}

/// <summary><c>derivid verify progress</c>.</summary>
internal static class VerifyProgressCommand
{
    public static Command Make(CommonOptions common)
    {
        var command = new ExampledCommand("progress", "Show how far the table is read, source by source.")
        {
            Examples = [("for a script", "derivid verify progress --json")],
        };
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Verification.GetProgressAsync(token), Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, VerificationProgress progress)
    {
        var table = Screen.NewTable("source", "typed", "agree", "differ", "not printed", "wait for a second person", "readers differ");
        foreach (var source in progress.Sources)
        {
            table.AddTexts(new[] { source.Read, source.Agrees, source.Differs, source.NotPrinted, source.AwaitsSecondReader, source.ReadersDiffer }
                .Select(count => Figures.Plain(count)).Prepend(source.SourceKey));
        }

        console.Write(table);
        console.WriteLine($"Version {progress.TableVersion}: {progress.Recalled} lines with a value that nobody has read.");
    }
}

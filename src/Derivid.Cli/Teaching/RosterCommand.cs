using System.CommandLine;
using System.Net;
using System.Text;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course roster</c>.</summary>
internal static class RosterCommand
{
    public static Command Make(CommonOptions common) => new("roster", "Who is in a course.")
    {
        ShowRosterCommand.Make(common),
        LoadRosterCommand.Make(common),
    };

    public static void Write(IAnsiConsole console, IReadOnlyList<RosterStudent> students)
    {
        var table = Screen.NewTable("student", "bench", "place", "works in sight of", "group", "calls as");
        foreach (var student in students)
        {
            table.AddTexts(
                student.Student,
                student.Bench,
                student.Place is { } place ? Figures.Plain(place) : null,
                string.Join(", ", student.Neighbours ?? []),
                student.Group,
                student.Actor);
        }

        console.Write(table);
        console.WriteLine(Figure.Count(students.Count, "student"));
    }
}

/// <summary><c>derivid course roster show</c>.</summary>
internal static class ShowRosterCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var command = new ExampledCommand("show", "Show the roster.")
        {
            Examples = [("everybody", "derivid course roster show 0123456789abcdef")],
        };
        command.Add(id);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            session.Show(await session.Client.Courses.GetRosterAsync(parsed.GetRequiredValue(id), token), RosterCommand.Write);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid course roster load</c>.</summary>
internal static class LoadRosterCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var file = new Argument<string>("file")
        {
            Description = "CSV with the columns student and any of bench, place, neighbours, actor and group (who is in one shares its unknowns and hands in one report), or a OneRoster 1.2 archive (.zip). - is standard input, CSV.",
        };
        var yes = new Option<bool>("--yes") { Description = "Students with a key, a sign-in or unknowns may fall out. Without it such a roster is refused, and who would fall out is told." };
        var ofClass = new Option<string?>("--class") { Description = "SourcedId of the class, of an archive with several.", HelpName = "ID" };
        var column = new Option<string?>("--student-column")
        {
            Description = "The column with the institution's own identifiers. Default: student, of an archive sourcedId.",
            HelpName = "NAME",
        };
        var command = new ExampledCommand("load", "Put a roster in place of the one before. Names and e-mail addresses are left where they are. Exit code 3: refused, with who would fall out.")
        {
            Examples =
            [
                ("a spreadsheet", "derivid course roster load 0123456789abcdef roster.csv"),
                ("a learning system's export", "derivid course roster load 0123456789abcdef oneroster.zip --class chem-201-a"),
                ("with somebody gone", "derivid course roster load 0123456789abcdef roster.csv --yes"),
            ],
        };
        command.Add(id);
        command.Add(file);
        command.Add(yes);
        command.Add(ofClass);
        command.Add(column);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            var query = new RosterQuery
            {
                DropsStudents = parsed.GetValue(yes) ? true : null,
                Class = parsed.GetValue(ofClass),
                StudentColumn = parsed.GetValue(column),
            };
            RosterTaken taken;
            try
            {
                taken = await SendAsync(session, seen, parsed.GetRequiredValue(file), query, token);
            }
            catch (DerividException refusal) when (refusal.Problem.Type.EndsWith(":" + ProblemSlugs.RosterDropsStudents, StringComparison.Ordinal))
            {
                session.Around.Error.WriteLine("derivid: the roster is not taken; --yes takes it all the same.");
                throw;
            }

            session.Show(taken, (console, shown) => RosterCommand.Write(console, shown.Students));
            CourseCommand.Warn(session, taken.Remarks);
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task<RosterTaken> SendAsync(
        Session session, Versioned<CourseItem> seen, string file, RosterQuery query, CancellationToken cancellationToken)
    {
        if (file.EndsWith(".zip", StringComparison.OrdinalIgnoreCase))
        {
            await using var archive = Files.OpenRead(file, session.Around);
            return await session.Client.Courses.PutRosterAsync(seen, archive, query, cancellationToken);
        }

        var csv = Encoding.UTF8.GetString((await Files.ReadAsync(file, session.Around, cancellationToken)).Span);
        return await session.Client.Courses.PutRosterAsync(seen, csv.TrimStart('\uFEFF'), query, cancellationToken);
    }
}

/// <summary><c>derivid course keys</c>.</summary>
internal static class StudentKeysCommand
{
    private const string Style =
        "@page { margin: 10mm } body { font: 10pt/1.4 sans-serif; margin: 0 } "
        + "ul { display: grid; grid-template-columns: repeat(2, 1fr); gap: 2mm; margin: 0; padding: 0; list-style: none } "
        + "li { border: .3mm dashed #666; padding: 4mm; break-inside: avoid } "
        + "strong, span { display: block } code { display: block; font-size: 9pt; overflow-wrap: anywhere }";

    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var students = new Option<string[]>("--student")
        {
            Description = "Only these; who had a key gets another in its place. Default: everybody without a key or sign-in.",
            HelpName = "STUDENT...",
            AllowMultipleArgumentsPerToken = true,
        };
        var days = new Option<int?>("--valid-days") { Description = "How long they are good. Default: 365.", HelpName = "DAYS" };
        var sheet = new Option<string?>("--sheet")
        {
            Description = "Write them into this new file, which only you can read, as a page to print and cut, instead of showing them.",
            HelpName = "FILE",
        };
        var command = new ExampledCommand("keys", "Give the students of a course keys of their own. They are shown this once and can't be fetched again.")
        {
            Examples =
            [
                ("everybody who has none, to print and cut", "derivid course keys 0123456789abcdef --sheet keys.html"),
                ("somebody who lost theirs", "derivid course keys 0123456789abcdef --student s1042"),
            ],
        };
        command.Add(id);
        command.Add(students);
        command.Add(days);
        command.Add(sheet);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            var request = new StudentKeysRequest
            {
                Students = parsed.GetValue(students) is { Length: > 0 } named ? named : null,
                ValidDays = parsed.GetValue(days),
            };
            await (parsed.GetValue(sheet) is { } path
                ? WriteAsync(session, seen, request, path, token)
                : ShowAsync(session, seen, request, token));
            return ExitCode.Done;
        });
        return command;
    }

    private static async Task ShowAsync(Session session, Versioned<CourseItem> seen, StudentKeysRequest request, CancellationToken cancellationToken)
    {
        var keys = await session.Client.Courses.GiveKeysAsync(seen, request, cancellationToken);
        session.Show(keys, (_, made) =>
        {
            foreach (var key in made)
            {
                session.Around.Output.WriteLine($"{key.Student}\t{key.Key}");
            }
        });
        session.Around.Error.WriteLine("derivid: these are the whole keys. They are shown this once; keep them like passwords.");
    }

    // The file is made before the keys are, so that none is lost for want of a place to put it.
    private static async Task WriteAsync(
        Session session, Versioned<CourseItem> seen, StudentKeysRequest request, string path, CancellationToken cancellationToken)
    {
        await using var target = Files.CreatePrivate(path, "sheet of keys");
        IReadOnlyList<StudentKey> keys;
        try
        {
            keys = await session.Client.Courses.GiveKeysAsync(seen, request, cancellationToken);
        }
        catch
        {
            File.Delete(path);
            throw;
        }

        await target.WriteAsync(Sheet(seen.Value.Name, session.Server, keys));
        session.Show(
            keys.Select(key => new { key.Student, key.ExpiresAt }),
            (console, given) => console.WriteLine($"{Figure.Count(keys.Count, "key")} in {path}, and nowhere else: print it, cut it, and delete the file."));
    }

    private static string Sheet(string course, Uri server, IReadOnlyList<StudentKey> keys)
    {
        var title = WebUtility.HtmlEncode(course);
        var address = WebUtility.HtmlEncode(server.AbsoluteUri.TrimEnd('/') + "/sign-in");
        var slips = string.Concat(keys.Select(key =>
            $"<li><strong>{WebUtility.HtmlEncode(key.Student)}</strong><code>{key.Key}</code><span>{title}, good until {Figures.Moment(key.ExpiresAt)}</span><span>Sign in at {address}</span></li>\n"));
        return $"<!DOCTYPE html>\n<html lang=\"en\">\n<head><meta charset=\"utf-8\"><title>Keys: {title}</title><style>{Style}</style></head>\n<body>\n<ul>\n{slips}</ul>\n</body>\n</html>\n";
    }
}

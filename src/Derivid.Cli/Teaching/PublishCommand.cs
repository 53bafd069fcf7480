using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course publish</c>.</summary>
internal static class PublishCommand
{
    private const int MostNamed = 12;

    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var grading = GradingOption.Make("The grading. Default: the newest that is finished.");
        var early = new Option<bool>("--before-due") { Description = "Reports that could still come in time are not waited for. Without it nothing is published before they are due, extensions among them, and until when is told." };
        var command = new ExampledCommand("publish", "Let students see their grades; from then on no report is taken. Exit code 1: the newest grading lacks reports, or could not grade some, and none was named.")
        {
            Examples =
            [
                ("the newest grading", "derivid course publish 0123456789abcdef"),
                ("another", "derivid course publish 0123456789abcdef --grading fedcba9876543210"),
                ("though somebody still has longer", "derivid course publish 0123456789abcdef --before-due"),
            ],
        };
        command.Add(id);
        command.Add(grading);
        command.Add(early);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            if (parsed.GetValue(grading) is not { } chosen)
            {
                var newest = await session.Client.Grades.ListGradingsAsync(seen.Value.Id, token)
                    .LastOrDefaultAsync(one => one.State == GradingState.Finished, token);
                var reports = await session.Client.Reports.ListAsync(seen.Value.Id, token).ToListAsync(token);
                if (await UnfitAsync(session, seen.Value, newest, reports, token) is { } reason)
                {
                    session.Around.Error.WriteLine($"derivid: {reason}");
                    return ExitCode.AnswerIsNo;
                }

                chosen = newest!.Id;
            }

            var published = await session.Client.Grades.PublishAsync(seen, chosen, parsed.GetValue(early), token);
            session.Show(published.Value, (console, course) => console.WriteLine(
                $"Students see grading {course.PublishedGrading}{(course.IsPractice ? "; it is for practice, and nothing counts" : "")}."));
            CourseCommand.Warn(session, published.Value.Warnings);
            return ExitCode.Done;
        });
        return command;
    }

    // A grading without a report that counts, or without a grade for one, is published where it is named, never because it happens to be the newest.
    private static async Task<string?> UnfitAsync(
        Session session, CourseItem course, GradingStatus? newest, List<ReportItem> reports, CancellationToken token)
    {
        var again = $"Nothing is published. derivid course grade {course.Id} grades them all";
        if (newest is null)
        {
            return $"No grading is finished yet. {again}.";
        }

        var grades = await session.Client.Grades.ListAsync(course.Id, newest.Id, null, token).ToListAsync(token);
        var lacking = Students(newest.Lacking(reports, grades).SelectMany(report => report.Members ?? [report.Whose]));
        var ungraded = Students(grades.Where(grade => grade.Problem is not null).Select(grade => grade.Whose));

        // The first publication of a course marked anonymously names everybody, so the service refuses one that lacks any.
        var asItIs = lacking is not null && course is { IsMarkedAnonymously: true, PublishedGrading: null } ? "" : $"; --grading {newest.Id} publishes it as it is";
        return lacking is null && ungraded is null
            ? null
            : $"The newest grading, {newest.Id}, {(lacking is null ? "" : $"lacks reports that count, of {lacking}")}{(lacking is null || ungraded is null ? "" : ", and ")}"
                + $"{(ungraded is null ? "" : $"could not grade reports of {ungraded}")}. {again}{asItIs}.";
    }

    private static string? Students(IEnumerable<string> keys) => keys.Distinct().Order(StringComparer.Ordinal).ToList() is { Count: > 0 } students
        ? string.Join(", ", students.Take(MostNamed)) + (students.Count > MostNamed ? $" and {students.Count - MostNamed} more" : "")
        : null;
}

/// <summary><c>derivid course gradebook</c>.</summary>
internal static class GradebookCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var grading = GradingOption.Make("The grading. Default: the one published.");
        var output = OutputOption.Make("it as CSV as well");
        var command = new ExampledCommand("gradebook", "Everybody of the roster with a percentage and what they may read of it. Of a course marked anonymously, once grades are published.")
        {
            Examples =
            [
                ("for a learning system", "derivid course gradebook 0123456789abcdef -o gradebook.csv"),
                ("before it is published", "derivid course gradebook 0123456789abcdef --grading fedcba9876543210"),
            ],
        };
        command.Add(id);
        command.Add(grading);
        command.Add(output);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var (course, chosen) = (parsed.GetRequiredValue(id), parsed.GetValue(grading));
            var book = await session.Client.Grades.GetGradebookAsync(course, chosen, token);
            await OutputOption.CopyAsync(
                parsed.GetValue(output), () => session.Client.Grades.ExportGradebookAsync(course, chosen, token), session, token);
            session.Show(book, Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, GradebookItem book)
    {
        var table = Screen.NewTable("student", "status", "%", "late", "missing");
        foreach (var row in book.Students)
        {
            table.AddTexts(
                row.Student,
                WireJson.Word(row.Status),
                row.Percentage is { } percentage ? Figure.Text(percentage, 2) : null,
                row.IsLate ? "late" : null,
                row.IsMissing ? "missing" : null);
        }

        console.Write(table);
        console.WriteLine($"grading {book.Grading}, {(book.IsPublished ? "which students see" : "which students don't see")}{(book.IsPractice ? "; the course is for practice, and nothing counts" : "")}");
    }
}

/// <summary><c>derivid course results</c>.</summary>
internal static class ResultsCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var output = OutputOption.Make("the ZIP archive");
        output.Required = true;
        var (ofClass, category, session, school) = (Of("--class"), Of("--category"), Of("--session"), Of("--school"));
        var command = new ExampledCommand("results", "The published grades as OneRoster 1.2, for a learning system. The ids are that system's own.")
        {
            Examples = [("for the class of the term", "derivid course results 0123456789abcdef --class chem-201-a --category lab --session 2026-1 --school chemistry -o results.zip")],
        };
        command.Add(id);
        foreach (var option in (Option[])[ofClass, category, session, school, output])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var opened = common.Open(parsed);
            var query = new OneRosterQuery
            {
                ClassSourcedId = parsed.GetRequiredValue(ofClass),
                CategorySourcedId = parsed.GetRequiredValue(category),
                AcademicSessionSourcedId = parsed.GetRequiredValue(session),
                SchoolSourcedId = parsed.GetRequiredValue(school),
            };
            await OutputOption.CopyAsync(
                parsed.GetValue(output), () => opened.Client.Grades.ExportOneRosterAsync(parsed.GetRequiredValue(id), query, token), opened, token);
            return ExitCode.Done;
        });
        return command;
    }

    private static Option<string> Of(string name) => new(name) { Description = $"SourcedId of the {name[2..]}.", HelpName = "ID", Required = true };
}

/// <summary>The option that names a grading.</summary>
internal static class GradingOption
{
    public static Option<string?> Make(string description) => new("--grading") { Description = description, HelpName = "ID" };
}

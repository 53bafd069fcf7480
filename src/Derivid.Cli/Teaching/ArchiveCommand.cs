using System.CommandLine;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course archive</c>.</summary>
internal static class ArchiveCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var takesBack = new Option<bool>("--take-back") { Description = "Take it out of the archive." };
        var command = new ExampledCommand("archive", "Put a course away that takes no reports: it is read as before, and nothing of it changes. For its owners.")
        {
            Examples =
            [
                ("at the end of term", "derivid course archive 0123456789abcdef"),
                ("take it out again", "derivid course archive 0123456789abcdef --take-back"),
            ],
        };
        command.Add(id);
        command.Add(takesBack);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            var course = await session.Client.Courses.ArchiveAsync(seen, !parsed.GetValue(takesBack), token);
            session.Show(course.Value, CourseStatusCommand.WriteHours);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid course delete</c>.</summary>
internal static class DeleteCourseCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var yes = new Option<bool>("--yes") { Description = "It is meant: unknowns, reports and grades are gone for good." };
        var reason = ReasonOption.Make();
        var command = new ExampledCommand("delete", "Delete an archived course for good, and tell what is kept. For its owners. Exit code 1: nothing is deleted without --yes.")
        {
            Examples = [("a class of years ago", "derivid course delete 0123456789abcdef --yes --reason 'kept for three years'")],
        };
        command.Add(id);
        command.Add(yes);
        command.Add(reason);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            if (!parsed.GetValue(yes))
            {
                var reports = await session.Client.Reports.ListAsync(seen.Value.Id, token).CountAsync(token);
                session.Around.Error.WriteLine(
                    $"derivid: {seen.Value.Name} with {Figure.Count(reports, "report")} handed in would be gone for good. With --yes it is deleted.");
                return ExitCode.AnswerIsNo;
            }

            var deleted = await session.Client.Courses.DeleteAsync(seen, parsed.GetValue(reason), token);
            session.Show(deleted, (console, shown) =>
            {
                console.WriteLine(
                    $"Deleted: {Figure.Count(shown.Reports, "report")}, {Figure.Count(shown.Gradings, "grading")}; {Figure.Count(shown.RevokedKeys, "key")} of students revoked.");
                console.WriteLines("Kept:", shown.Kept);
            });
            return ExitCode.Done;
        });
        return command;
    }
}

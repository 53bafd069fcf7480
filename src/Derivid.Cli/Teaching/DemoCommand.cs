using System.CommandLine;
using Derivid.Client.Teaching;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid demo</c>.</summary>
internal static class DemoCommand
{
    public static Command Make(CommonOptions common)
    {
        var command = new ExampledCommand(
            "demo", "Make an invented class with unknowns, reports and grades, to see a full cycle; marked as invented.")
        {
            Examples = [("with an instructor's key in DERIVID_KEY", "derivid demo")],
        };
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var course = await new DemoClass(session.Client).MakeAsync(token);
            var grading = await GradingProgressBar.FollowAsync(
                session, course.Id, await session.Client.Grades.StartAsync(course.Id, new GradingRequest(), null, token), token);
            var grades = await session.Client.Grades.ListAsync(course.Id, grading.Id, cancellationToken: token).ToListAsync(token);
            var overview = await session.Client.Courses.GetOverviewAsync(course.Id, cancellationToken: token);
            session.Show(
                new { Course = course, Grading = new GradingResult(grading, grades), Overview = overview },
                (console, shown) => Write(console, shown.Course, shown.Grading, shown.Overview));
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, CourseItem course, GradingResult grading, OverviewItem overview)
    {
        console.WriteLine($"Course {course.Id}: {course.Name}. Nobody in it exists, and every reading is made up.");
        GradeView.Write(console, grading, explain: false);
        foreach (var suggestion in overview.Suggestions)
        {
            console.WriteLine(suggestion.Sentence);
        }

        console.WriteLine($"Every sentence: derivid grade {course.Id} --explain");
    }
}

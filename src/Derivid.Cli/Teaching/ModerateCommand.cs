using System.CommandLine;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Teaching.Grading;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course moderate</c>.</summary>
internal static class ModerateCommand
{
    public static Command Make(CommonOptions common)
    {
        var course = CourseCommand.Id();
        var report = new Argument<string>("report") { Description = "The report's id, as grade shows it." };
        var criterion = OptionOf.Many("--criterion", "NAME", "The line of the grade, such as rangeWidth.", OptionOf.Word<CriterionKind>);
        criterion.Description = "The line of the grade, such as rangeWidth. Default: none, the reason is a comment on the whole report.";
        criterion.Arity = ArgumentArity.ZeroOrOne;
        var points = OptionOf.Number("--points", "POINTS", "Points in place of those worked out. Default: none, for a comment or --take-back.");
        var reason = new Option<string?>("--reason") { Description = "Why; the student reads it.", HelpName = "TEXT" };
        var student = new Option<string?>("--student")
        {
            Description = "The one member of a group whom it is for. Default: all whose report it is.",
            HelpName = "STUDENT",
        };
        var takesBack = new Option<bool>("--take-back") { Description = "Take back what was given for the line, or the comment." };
        var grading = new Option<string?>("--grading")
        {
            Description = "The grading looked at. Default: the one published, else the newest.",
            HelpName = "ID",
        };
        var idempotencyKey = CourseCommand.IdempotencyKey("change");
        var command = new ExampledCommand("moderate", "Change a line of a report's grade by hand, or comment on the report.")
        {
            Examples =
            [
                ("two points more, with the reason", "derivid course moderate 0123456789abcdef fedcba9876543210 --criterion rangeWidth --points 4 --reason \"Broken thermometer\""),
                ("of a group's report only somebody's", "derivid course moderate 0123456789abcdef fedcba9876543210 --student s1042 --criterion rangeWidth --points 2 --reason \"Away that day\""),
                ("take that back", "derivid course moderate 0123456789abcdef fedcba9876543210 --criterion rangeWidth --take-back"),
                ("a comment", "derivid course moderate 0123456789abcdef fedcba9876543210 --reason \"Well argued\""),
            ],
        };
        command.Add(course);
        command.Add(report);
        foreach (var option in (Option[])[criterion, points, reason, student, takesBack, grading, idempotencyKey])
        {
            command.Add(option);
        }

        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var made = await session.Client.Grades.ModerateAsync(
                parsed.GetRequiredValue(course),
                parsed.GetRequiredValue(report),
                new ModerationRequest
                {
                    Criterion = parsed.GetValue(criterion) is [var named] ? named : null,
                    Points = parsed.GetValue(points),
                    Reason = parsed.GetValue(reason),
                    Student = parsed.GetValue(student),
                    TakesBack = parsed.GetValue(takesBack) ? true : null,
                    Grading = parsed.GetValue(grading),
                },
                parsed.GetValue(idempotencyKey),
                token);
            session.Show(made, (console, shown) => console.WriteLine(Sentence(shown)));
            return ExitCode.Done;
        });
        return command;
    }

    private static string Sentence(ModerationItem made) => (made.Student is { } student ? student + ": " : "") + ((made.Criterion, made.Points) switch
    {
        (null, _) => made.Reason is null ? "The comment is taken back." : "The report has the comment now.",
        ({ } line, { } given) => $"{WireJson.Word(line)}: {Figure.Text(given, 2)} points in place of {Figure.Text(made.Computed ?? 0, 2)}.",
        ({ } line, null) => $"{WireJson.Word(line)}: the points worked out, {Figure.Text(made.Computed ?? 0, 2)}, stand again.",
    });
}

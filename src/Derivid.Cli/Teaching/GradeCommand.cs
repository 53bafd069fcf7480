using System.CommandLine;
using Derivid.Contracts;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course grade</c>.</summary>
internal sealed class GradeCommand
{
    private readonly Argument<string> _course = CourseCommand.Id();

    private readonly Option<string[]> _students = new("--student")
    {
        Description = "Only reports of these students, by marking code while they are marked anonymously.",
        HelpName = "STUDENT...",
        AllowMultipleArgumentsPerToken = true,
    };

    private readonly Option<string[]> _reports = new("--report")
    {
        Description = "Only these reports.",
        HelpName = "ID...",
        AllowMultipleArgumentsPerToken = true,
    };

    private readonly Option<string?> _rubric = new("--rubric")
    {
        Description = "File with the rubric, JSON. Default: the course's.",
        HelpName = "FILE",
    };

    private readonly Option<int?> _version = new("--table-version")
    {
        Description = "Version of the reference table. Default: the course's.",
        HelpName = "NUMBER",
    };

    private readonly Option<string?> _idempotencyKey = CourseCommand.IdempotencyKey("grading");

    private readonly Option<bool> _explain = new("--explain")
    {
        Description = "Show every criterion with the sentence that justifies its points.",
    };

    private readonly Option<string?> _output = new("--output", "-o")
    {
        Description = "Write the grades, with every criterion, to this file as CSV as well.",
        HelpName = "FILE",
    };

    private GradeCommand()
    {
    }

    public static Command Make(CommonOptions common)
    {
        var parts = new GradeCommand();
        var command = new ExampledCommand(
            "grade", "Grade the reports of a course; students see nothing yet. Exit code 1: some could not be graded.")
        {
            Examples =
            [
                ("the whole class, safe to run twice", "derivid course grade 0123456789abcdef --idempotency-key friday -o grades.csv"),
                ("one student, with every sentence", "derivid course grade 0123456789abcdef --student s1042 --explain"),
                ("under another rubric, for a script", "derivid course grade 0123456789abcdef --rubric strict.json --json"),
            ],
        };
        command.Add(parts._course);
        foreach (var option in (Option[])
            [
                parts._students, parts._reports, parts._rubric, parts._version, parts._idempotencyKey, parts._explain,
                parts._output,
            ])
        {
            command.Add(option);
        }

        command.SetAction((parsed, token) => parts.RunAsync(parsed, common, token));
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CommonOptions common, CancellationToken cancellationToken)
    {
        var course = parsed.GetRequiredValue(_course);
        using var session = common.Open(parsed);
        var grades = session.Client.Grades;
        var started = await grades.StartAsync(
            course, await RequestAsync(parsed, session, cancellationToken), parsed.GetValue(_idempotencyKey), cancellationToken);
        if (started.IsEarlier == true)
        {
            session.Around.Error.WriteLine(
                $"derivid: this grading was asked for with the same word at {Figures.Moment(started.CreatedAt)}; what was handed in since is not in it.");
        }

        var grading = await GradingProgressBar.FollowAsync(session, course, started, cancellationToken);
        var result = new GradingResult(
            grading, await grades.ListAsync(course, grading.Id, cancellationToken: cancellationToken).ToListAsync(cancellationToken));
        if (parsed.GetValue(_output) is { } path)
        {
            await using var csv = await grades.ExportAsync(course, grading.Id, cancellationToken);
            await using var target = Files.Create(path, session.Around);
            await csv.CopyToAsync(target, cancellationToken);
        }

        session.Show(result, (console, shown) => GradeView.Write(console, shown, parsed.GetValue(_explain)));
        return result.Grades.All(grade => grade.Problem is null) ? ExitCode.Done : ExitCode.AnswerIsNo;
    }

    private async Task<GradingRequest> RequestAsync(
        ParseResult parsed, Session session, CancellationToken cancellationToken) => new()
        {
            Students = parsed.GetValue(_students) is { Length: > 0 } students ? students : null,
            Reports = parsed.GetValue(_reports) is { Length: > 0 } reports ? reports : null,
            Rubric = parsed.GetValue(_rubric) is { } file ? await CourseOptions.ReadRubricAsync(file, session, cancellationToken) : null,
            TableVersion = parsed.GetValue(_version),
        };
}

/// <summary>What came of a grading.</summary>
internal sealed record GradingResult(GradingStatus Grading, IReadOnlyList<GradeItem> Grades);

using System.CommandLine;
using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core;
using Spectre.Console;

namespace Derivid.Cli.Teaching;

/// <summary><c>derivid course</c>: an instructor's week, from nothing to published grades.</summary>
internal static class CourseCommand
{
    public static Command Make(CommonOptions common) => new("course", "A course, from its making to its gradebook; needs an instructor's key, to read often a grader's.")
    {
        ListCoursesCommand.Make(common),
        CreateCourseCommand.Make(common),
        ChangeCourseCommand.Make(common),
        CourseStatusCommand.Make(common),
        RosterCommand.Make(common),
        StaffCommand.Make(common),
        StudentKeysCommand.Make(common),
        HandOutCommand.Make(common),
        LabelsCommand.Make(common),
        FillingCommand.Make(common),
        OpenCourseCommand.Make(common),
        CloseCourseCommand.Make(common),
        ExtendCommand.Make(common),
        GradeCommand.Make(common),
        ModerateCommand.Make(common),
        PublishCommand.Make(common),
        GradebookCommand.Make(common),
        ResultsCommand.Make(common),
        ArchiveCommand.Make(common),
        DeleteCourseCommand.Make(common),
        DemoCommand.Make(common),
    };

    /// <summary>The argument that names one.</summary>
    public static Argument<string> Id() => new("course") { Description = "The course's id, as list and create tell it." };

    /// <summary>The option that makes a command count once.</summary>
    /// <param name="thing">What it makes.</param>
    public static Option<string?> IdempotencyKey(string thing) => new("--idempotency-key")
    {
        Description = $"A word of your own for this {thing}: the same command with the same word changes nothing.",
        HelpName = "TEXT",
    };

    /// <summary>Tells of what the instructor of a course should know, beside the result.</summary>
    public static void Warn(Session session, IEnumerable<string>? warnings)
    {
        foreach (var warning in warnings ?? [])
        {
            session.Around.Error.WriteLine("! " + warning);
        }
    }
}

/// <summary><c>derivid course list</c>.</summary>
internal static class ListCoursesCommand
{
    public static Command Make(CommonOptions common)
    {
        var archived = new Option<bool>("--archived") { Description = "Those that are archived, in place of the others." };
        var command = new ExampledCommand("list", "List the courses of whose staff you are, or whose roster names you.")
        {
            Examples = [("those of this term", "derivid course list"), ("those put away", "derivid course list --archived")],
        };
        command.Add(archived);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var courses = parsed.GetValue(archived) ? session.Client.Courses.ListArchivedAsync(token) : session.Client.Courses.ListAsync(token);
            session.Show(await courses.ToListAsync(token), Write);
            return ExitCode.Done;
        });
        return command;
    }

    private static void Write(IAnsiConsole console, List<CourseLink> courses)
    {
        var table = Screen.NewTable("id", "name", "invented");
        foreach (var course in courses)
        {
            table.AddTexts(course.Id, course.Name, course.IsInvented ? "yes" : "");
        }

        console.Write(table);
    }
}

/// <summary><c>derivid course create</c>.</summary>
internal static class CreateCourseCommand
{
    public static Command Make(CommonOptions common)
    {
        var described = new CourseOptions();
        var invented = new Option<bool>("--invented") { Description = "Class and readings are invented, for showing the service." };
        var key = CourseCommand.IdempotencyKey("course");
        var command = new ExampledCommand("create", "Make a course: its shelf, what its laboratory offers, its rubric. Its id is told.")
        {
            Examples =
            [
                ("six compounds, two derivatives, two tests", "derivid course create --name 'Organic practical' --shelf acetone butanone pentan-3-one cyclohexanone benzaldehyde acetophenone --kind 2,4-DNPH semicarbazone --spot-test Tollens iodoform --due-at 2026-10-23T17:00+02:00"),
                ("a shelf list in a file, a rubric of its own", "derivid course create --name 'Organic practical' --shelf-file shelf.txt --kind 2,4-DNPH --rubric rubric.json"),
                ("marked without knowing whose it is", "derivid course create --name 'Organic practical' --shelf-file shelf.txt --kind 2,4-DNPH --anonymous"),
                ("for practice: nothing counts, the answer is told after handing in", "derivid course create --name 'Warming up' --shelf acetone butanone --kind semicarbazone --practice"),
            ],
        };
        described.AddTo(command);
        command.Add(invented);
        command.Add(key);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var request = await described.IntoAsync(
                new CourseRequest { Name = "", ShelfList = [], IsInvented = parsed.GetValue(invented) ? true : null }, parsed, session, token);
            var missing = request.Name.Length == 0 ? "--name" : request.ShelfList.Count == 0 ? "--shelf, or --shelf-file" : null;
            if (missing is not null)
            {
                throw new UsageException($"A course needs {missing}.");
            }

            var made = await session.Client.Courses.CreateAsync(request, parsed.GetValue(key), token);
            session.Show(made, (_, course) => session.Around.Output.WriteLine(course.Id));
            CourseCommand.Warn(session, made.Warnings);
            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid course change</c>.</summary>
internal static class ChangeCourseCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var described = new CourseOptions();
        var command = new ExampledCommand("change", "Change what is said of a course; what isn't named stays. Grades change when reports are graded again.")
        {
            Examples =
            [
                ("another rubric", "derivid course change 0123456789abcdef --rubric strict.json"),
                ("a day more for everybody", "derivid course change 0123456789abcdef --due-at 2026-10-24T17:00+02:00"),
                ("no longer an examination", "derivid course change 0123456789abcdef --examination false"),
            ],
        };
        command.Add(id);
        described.AddTo(command);
        command.SetAction((parsed, token) => RunAsync(
            common, parsed, parsed.GetRequiredValue(id), (course, session) => described.IntoAsync(course, parsed, session, token), token));
        return command;
    }

    /// <summary>Changes a course and shows how it is then.</summary>
    public static async Task<int> RunAsync(
        CommonOptions common,
        ParseResult parsed,
        string id,
        Func<CourseRequest, Session, Task<CourseRequest>> change,
        CancellationToken cancellationToken)
    {
        using var session = common.Open(parsed);
        var seen = await session.Client.Courses.GetAsync(id, cancellationToken);
        var changed = await session.Client.Courses.ChangeAsync(seen, await change(CourseOptions.Of(seen.Value), session), cancellationToken);
        session.Show(changed.Value, CourseStatusCommand.WriteHours);
        CourseCommand.Warn(session, changed.Value.Warnings);
        return ExitCode.Done;
    }
}

/// <summary><c>derivid course open</c>.</summary>
internal static class OpenCourseCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var until = new Option<DateTimeOffset?>("--until")
        {
            Description = "From when on no report is taken. Default: until grades are published.",
            HelpName = "MOMENT",
        };
        var command = new ExampledCommand("open", "Take reports again, or longer. Once grades are published none is taken.")
        {
            Examples =
            [
                ("until grades are published", "derivid course open 0123456789abcdef"),
                ("until Monday", "derivid course open 0123456789abcdef --until 2026-10-26T08:00+01:00"),
            ],
        };
        command.Add(id);
        command.Add(until);
        command.SetAction((parsed, token) => ChangeCourseCommand.RunAsync(
            common, parsed, parsed.GetRequiredValue(id), (course, _) => Task.FromResult(course with { ClosesAt = parsed.GetValue(until) }), token));
        return command;
    }
}

/// <summary><c>derivid course close</c>.</summary>
internal static class CloseCourseCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var at = new Option<DateTimeOffset?>("--at")
        {
            Description = "From when on no report is taken, not before they are late. Default: now. Who has an extension has until then, and is named.",
            HelpName = "MOMENT",
        };
        var early = new Option<bool>("--before-due") { Description = "Reports are due earlier then too, so that none is late; without it a course isn't closed before they are." };
        var command = new ExampledCommand("close", "Take no more reports. Exit code 1: nothing is changed, since reports would not be due yet.")
        {
            Examples =
            [
                ("now", "derivid course close 0123456789abcdef"),
                ("on Friday evening", "derivid course close 0123456789abcdef --at 2026-10-23T20:00+02:00"),
                ("now, though they are due in three weeks", "derivid course close 0123456789abcdef --before-due"),
            ],
        };
        command.Add(id);
        command.Add(at);
        command.Add(early);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var seen = await session.Client.Courses.GetAsync(parsed.GetRequiredValue(id), token);
            var closesAt = parsed.GetValue(at) ?? DateTimeOffset.UtcNow;
            var dueAt = closesAt.UtcDateTime.AddMinutes(-seen.Value.GraceMinutes);
            var isEarly = dueAt < seen.Value.DueAt;
            if (isEarly && !parsed.GetValue(early))
            {
                session.Around.Error.WriteLine(
                    $"derivid: reports are not due before {Figures.Moment(seen.Value.DueAt)}{(seen.Value.GraceMinutes > 0 ? $", nor late for {Figure.Count(seen.Value.GraceMinutes, "minute")} more" : "")}. Nothing is changed. With --before-due it is closed, and they are due by then.");
                return ExitCode.AnswerIsNo;
            }

            var request = CourseOptions.Of(seen.Value) with { ClosesAt = closesAt };
            var changed = await session.Client.Courses.ChangeAsync(seen, isEarly ? request with { DueAt = dueAt } : request, token);
            session.Show(changed.Value, CourseStatusCommand.WriteHours);
            CourseCommand.Warn(session, changed.Value.Warnings);
            var extensions = await session.Client.Courses.GetExtensionsAsync(seen.Value.Id, token);
            CourseCommand.Warn(session, extensions
                .Select(extension => (extension.Student, Until: extension.DueAt.AddMinutes(seen.Value.GraceMinutes)))
                .Where(longer => longer.Until > closesAt)
                .Select(longer => $"{longer.Student} has longer, and hands in until {Figures.Moment(longer.Until.UtcDateTime)}; derivid course extend {seen.Value.Id} {longer.Student} --take-back ends that."));

            return ExitCode.Done;
        });
        return command;
    }
}

/// <summary><c>derivid course status</c>.</summary>
internal static class CourseStatusCommand
{
    public static Command Make(CommonOptions common)
    {
        var id = CourseCommand.Id();
        var command = new ExampledCommand("status", "How far a course is, and what comes next.")
        {
            Examples = [("how far", "derivid course status 0123456789abcdef")],
        };
        command.Add(id);
        command.SetAction(async (parsed, token) =>
        {
            using var session = common.Open(parsed);
            var status = await ReadAsync(session.Client, parsed.GetRequiredValue(id), token);
            session.Show(status, Write);
            CourseCommand.Warn(session, status.Course.Warnings);
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>Until when reports are taken.</summary>
    public static void WriteHours(IAnsiConsole console, CourseItem course)
    {
        console.WriteLine($"{course.Name}: {course.Id}{(course.ArchivedAt is null ? "" : ", archived")}{(course.IsPractice ? ", for practice: nothing counts" : "")}{(course.IsExamination ? ", an examination" : "")}{(course.IsMarkedAnonymously ? $", marked anonymously{(course.PublishedGrading is null ? ": no report has a name until grades are published" : "")}" : "")}{(course.IsLearnedFrom ? ", the table may learn from it" : "")}");
        console.WriteLine(course.DueAt is { } due
            ? $"due: {Figures.Moment(due)}{(course.GraceMinutes > 0 ? $", not late for {Figure.Count(course.GraceMinutes, "minute")} more" : "")}"
            : "due: never, so none is late");
        console.WriteLine(course.PublishedGrading is not null ? "closed: grades are published"
            : course.ClosesAt is { } closes ? $"{(closes <= DateTime.UtcNow ? "closed" : "closes")}: {Figures.Moment(closes)}"
            : "closes: when grades are published");
    }

    private static async Task<CourseStatus> ReadAsync(DerividClient client, string id, CancellationToken cancellationToken)
    {
        var course = (await client.Courses.GetAsync(id, cancellationToken)).Value;
        var roster = await client.Courses.GetRosterAsync(id, cancellationToken);
        var unknowns = await client.Courses.ListAssignmentsAsync(id, cancellationToken: cancellationToken)
            .Select(unknown => unknown.Code).Distinct().CountAsync(cancellationToken);
        var reports = await client.Reports.ListAsync(id, cancellationToken).ToListAsync(cancellationToken);
        var newest = await client.Grades.ListGradingsAsync(id, cancellationToken).LastOrDefaultAsync(cancellationToken);
        var lacking = newest?.Lacking(reports, await client.Grades.ListAsync(id, newest.Id, null, cancellationToken).ToListAsync(cancellationToken)).Count;
        return new CourseStatus(
            course,
            roster.Count,
            roster.Count(student => student.Actor is null),
            unknowns,
            reports.Count,
            reports.Select(report => (report.Whose, report.Number)).Distinct().Count(),
            await client.Courses.GetExtensionsAsync(id, cancellationToken),
            newest,
            lacking);
    }

    private static void Write(IAnsiConsole console, CourseStatus status)
    {
        WriteHours(console, status.Course);
        console.WriteLine($"roster: {Figure.Count(status.Students, "student")}, {Figures.Plain(status.WithoutKey)} without a key or sign-in");
        console.WriteLine(status.Course.HandOut is { } number ? $"handed out: hand-out {Figures.Plain(number)}, {Figure.Count(status.Unknowns, "unknown")}" : "handed out: nothing yet");
        console.WriteLine($"handed in: {Figure.Count(status.Reports, "report")} on {Figures.Plain(status.UnknownsReported)} of {Figure.Count(status.Unknowns, "unknown")}");
        foreach (var extension in status.Extensions)
        {
            console.WriteLine($"longer has: {extension.Student}, {Figures.Moment(extension.DueAt.UtcDateTime)}");
        }

        console.WriteLine(status.NewestGrading is not { } grading ? "graded: not yet"
            : $"graded: {Figures.Moment(grading.CreatedAt)}, grading {grading.Id}, {Figures.Plain(grading.Done)} of {Figure.Count(grading.Total, "report")}"
            + (status.Course.PublishedGrading == grading.Id ? ", students see it" : status.Course.PublishedGrading is { } other ? $"; students see {other}" : "; students see nothing yet"));
        if (status.Lacking is > 0 and { } lacking)
        {
            console.WriteLine($"not in it: {Figure.Count(lacking, "report")} that {(lacking == 1 ? "counts" : "count")}");
        }

        console.WriteLine("next: " + Next(status));
    }

    private static string Next(CourseStatus status)
    {
        var id = status.Course.Id;
        return status switch
        {
            { Students: 0 } => $"derivid course roster load {id} FILE",
            { Course.HandOut: null } => $"derivid course hand-out {id}",
            { Course.PublishedGrading: not null } => $"derivid course gradebook {id}",
            { Reports: 0 } when status.Extensions.Select(extension => (DateTime?)extension.DueAt.UtcDateTime).Append(status.Course.DueAt).Max() <= DateTime.UtcNow =>
                $"nothing was handed in: more time, derivid course change {id} --due-at MOMENT, or derivid course close {id}",
            { Reports: 0 } => "reports are waited for",
            { NewestGrading: null } => $"derivid course grade {id}",
            { Lacking: > 0 } => $"grade again, derivid course grade {id}",
            _ => $"derivid course publish {id}, or grade again",
        };
    }
}

/// <summary>How far a course is.</summary>
/// <param name="Course">The course.</param>
/// <param name="Students">Students on its roster.</param>
/// <param name="WithoutKey">Those of them who can't call the service.</param>
/// <param name="Unknowns">Unknowns handed out.</param>
/// <param name="Reports">Reports handed in.</param>
/// <param name="UnknownsReported">Unknowns with a report at least.</param>
/// <param name="Extensions">Who has longer.</param>
/// <param name="NewestGrading">The newest grading. Missing: none yet.</param>
/// <param name="Lacking">Reports that count, or may where the best does, and are not in the newest grading. Missing: there is none yet.</param>
internal sealed record CourseStatus(
    CourseItem Course,
    int Students,
    int WithoutKey,
    int Unknowns,
    int Reports,
    int UnknownsReported,
    IReadOnlyList<Extension> Extensions,
    GradingStatus? NewestGrading,
    int? Lacking);

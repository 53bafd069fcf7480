using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Reading, comparing and publishing grades.</summary>
public static class GradeEndpoints
{
    private const int MostNamed = 12;

    // Between a report's id and the student in a place of the list; no id holds it.
    private const char Parting = ':';

    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapGrades(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/grades", ListAsync)
            .RequireRole(Role.Student)
            .WithName("listGrades")
            .WithSummary("List grades")
            .WithDescription(
                "Of the grading published, or for graders of any: every criterion with its points and the sentence that justifies "
                + "them, a report of a group once for each of its members. A student gets their own, once published, without what would give an answer away. While they are marked anonymously staff are "
                + "told marking codes in place of students, and no codes of unknowns. With Accept: text/csv the whole list as a CSV file.")
            .WithQuery<GradeQuery>()
            .Produces<RowPage<GradeItem>>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.Csv)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.Withheld);
        courses.MapGet("/{id}/gradings/{gradingId}/comparison/{otherId}", CompareAsync)
            .RequireRole(Role.Grader)
            .WithName("compareGradings")
            .WithSummary("Compare two gradings")
            .WithDescription(
                "Under another rubric, table version, model or version of the marking rules, or of another offer: the reports whose grades differ, criterion by criterion. The "
                + "first grading is taken as the one before. While they are marked anonymously, by marking code.")
            .Produces<GradeComparisonItem>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPut("/{id}/publication", PublishAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithName("publishGrades")
            .WithSummary("Let students see their grades")
            .WithDescription(
                "Those of one finished grading; another may take its place later. From then on the course takes no reports, whatever hours "
                + "it is given, and whoever still had longer; so as long as reports could come in time the first publication is refused, unless beforeDue says that it is meant. Where reports that count are not in the grading, or an extension is running, a "
                + "warning tells whose. In a course marked anonymously the first publication names everybody, so no report that counts may be missing in it.")
            .WithBody<GradePublicationRequest>()
            .Produces<CourseItem>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> ListAsync(string id, HttpContext context, CourseAccess access, Gradings gradings, AnonymousMarking marking)
    {
        if (!RequestQuery.Read<GradeQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem)
            || !Chosen(view, query).Succeeded(out var chosen, out problem)
            || !(await GradingEndpoints.FindAsync(id, chosen, gradings, context.RequestAborted)).Succeeded(out var grading, out problem))
        {
            return problem;
        }

        var names = await marking.OfAsync(view, context.RequestAborted);
        var student = view.Student?.StudentKey ?? query.Student;
        var counting = grading.CountsBest ? ReportGrading.Counting(grading, await ReadAsync(null, Reports.All)) : null;
        if (CsvText.IsWantedBy(context.Request))
        {
            var all = names.InOrder(await ReadAsync(null, Reports.All), row => row.Report.Id);
            return CsvText.Answer(context, GradeCsv.Write([.. all.Select(Item)], view.Course.IsMarkedAnonymously && view.Student is null), "grades.csv");
        }

        return await Pager.ListAsync<GradeQuery, GradedReport, GradeItem>(
            context,
            (_, beyond, most) => names.PageAsync(
                (after, count) => ReadAsync(after is null ? null : PlaceOf(after), count),
                async () => (await gradings.ReportsAsync(grading, context.RequestAborted)).Where(row => IsAsked(row.StudentKey)).Select(row => row.Id),
                async reports => (await gradings.GradesAsync(grading, reports, context.RequestAborted)).FindAll(row => row.IsOfHolder),
                row => row.Report.Id,
                beyond,
                most),
            row => names.IsBlind ? names.Report(row.Report.Id) : SortKey(row.Place),
            key => names.IsBlind ? ResourceIds.IsWellFormed(key) : IsSortKey(key),
            Item);

        // A marking code leads to no student, so of all the one it is of is looked for; and a group has one for all its members.
        async Task<List<GradedReport>> ReadAsync(GradePlace? beyond, int most) => names.IsBlind
            ? (await gradings.GradesAsync(grading, null, beyond, most, context.RequestAborted))
                .FindAll(row => row.IsOfHolder && IsAsked(row.Report.StudentKey))
            : await gradings.GradesAsync(grading, student, beyond, most, context.RequestAborted);

        bool IsAsked(string studentKey) => student is null || names.Student(studentKey) == student;

        GradeItem Item(GradedReport row) => names.Told(
            GradeItem.Of(row, view.SeesIdentities, counts: !view.Course.IsPractice && (counting?.Contains(row.Place) ?? true)), row.Report.StudentKey);
    }

    private static string SortKey(GradePlace place) => place.ReportId + Parting + place.StudentKey;

    private static GradePlace PlaceOf(string sortKey)
    {
        var parts = sortKey.Split(Parting, 2);
        return new GradePlace(parts[0], parts[1]);
    }

    private static bool IsSortKey(string text) =>
        text.Split(Parting, 2) is [var report, { Length: > 0 and <= Roster.LongestKey } student] && ResourceIds.IsWellFormed(report) && !Text.HasControlCharacter(student);

    private static Outcome<string> Chosen(CourseView view, GradeQuery query)
    {
        if (view.Student is { } student && (query.Grading is not null || (query.Student ?? student.StudentKey) != student.StudentKey))
        {
            return new Problem(ProblemTypes.ScopeMissing, "You can ask for your own published grades only.");
        }

        if (query.Grading is { } named)
        {
            return named;
        }

        return view.Course.PublishedGradingId is { } published
            ? published
            : new Problem(
                ProblemTypes.Withheld,
                view.SeesIdentities ? "No grades are published yet; name a grading with ?grading=." : "Grades are not published yet.");
    }

    /// <param name="id">The course.</param>
    /// <param name="gradingId">The grading; in a comparison the one before.</param>
    /// <param name="otherId">The grading to compare with, taken as the later one.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="marking">By which names reports are told.</param>
    private static async Task<IResult> CompareAsync(
        string id, string gradingId, string otherId, HttpContext context, CourseAccess access, Gradings gradings, AnonymousMarking marking)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem)
            || !(await GradingEndpoints.FindAsync(id, gradingId, gradings, context.RequestAborted)).Succeeded(out var before, out problem)
            || !(await GradingEndpoints.FindAsync(id, otherId, gradings, context.RequestAborted)).Succeeded(out var after, out problem))
        {
            return problem;
        }

        var names = await marking.OfAsync(view, context.RequestAborted);
        var first = names.InOrder(await gradings.GradesAsync(before, null, null, Reports.All, context.RequestAborted), row => row.Report.Id)
            .Where(row => row.IsOfHolder);
        var second = (await gradings.GradesAsync(after, null, null, Reports.All, context.RequestAborted))
            .Where(row => row.IsOfHolder && row.Grade is not null)
            .ToDictionary(row => row.Report.Id, row => row.Grade!, StringComparer.Ordinal);
        var items = first
            .Where(row => row.Grade is not null && second.ContainsKey(row.Report.Id))
            .Select(row => names.Told(ComparisonItem.Of(
                row.Report, names.Compared(ReportGrading.Kept(row.Grade!)), names.Compared(ReportGrading.Kept(second[row.Report.Id])))))
            .ToList();
        var changed = items.Where(item => item.Changes.Count > 0).ToList();
        context.Response.Headers.CacheControl = "no-store";
        return Reply.Json(new GradeComparisonItem(items.Count, changed.Count, changed));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> PublishAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, Gradings gradings, HandOuts handOuts,
        TimeProvider time)
    {
        if (!(await access.ReadAsync<GradePublicationRequest>(context, id)).Succeeded(out var sent, out var problem)
            || !(await GradingEndpoints.FindAsync(id, sent.Write.Body.Grading, gradings, context.RequestAborted))
                .Succeeded(out var grading, out problem))
        {
            return problem;
        }

        if (grading.FinishedAtUtc is null)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "The grading is still under way; publish it when it is finished.");
        }

        var now = time.GetUtcNow().UtcDateTime;
        var course = await courses.PublishAsync(
            id, sent.Write.Revision, grading, sent.Write.Body.BeforeDue ?? false, now, sent.Write.Origin, context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        var item = await access.ItemOfAsync(course, context.RequestAborted);
        List<string> warnings =
        [
            .. new[]
            {
                await LeftOutAsync(course, grading, gradings, handOuts, context.RequestAborted),
                CutShort(course, await courses.RosterAsync(id, context.RequestAborted), now),
            }.OfType<string>(),
            .. item.Warnings ?? [],
        ];
        return Reply.Json(warnings.Count > 0 ? item with { Warnings = warnings } : item);
    }

    /// <summary>That students who still had longer hand in no more.</summary>
    private static string? CutShort(Course course, IEnumerable<CourseStudent> roster, DateTime now) =>
        roster.Where(student => student.DueAtUtc > course.DueAtUtc && student.DueAtUtc > now.AddMinutes(-course.GraceMinutes)).Select(student => student.StudentKey).ToList() is { Count: > 0 } students
            ? $"Still had longer, and hand in no more: {Named(students)}."
            : null;

    private static string Named(List<string> students) =>
        string.Join(", ", students.Take(MostNamed)) + (students.Count > MostNamed ? $" and {students.Count - MostNamed} more" : "");

    /// <summary>That reports which count are not in a grading. From its publication on no more come, so none is missed.</summary>
    private static async Task<string?> LeftOutAsync(
        Course course, Grading grading, Gradings gradings, HandOuts handOuts, CancellationToken cancellation)
    {
        var lacking = (await gradings.LackingAsync(course, grading, cancellation)).Select(report => report.StudentKey).ToHashSet(StringComparer.Ordinal);
        var students = lacking.Count == 0 ? [] : (await handOuts.AssignmentsAsync(course.Id, course.HandOutNumber, null, cancellation))
            .Where(row => lacking.Contains(row.HolderKey)).Select(row => row.StudentKey).Distinct().ToList();
        return students.Count == 0
            ? null
            : $"Not in this grading are reports that count, of {Named(students)}: their students see no grade for them, or that of an earlier attempt. Grade again and publish that grading.";
    }
}

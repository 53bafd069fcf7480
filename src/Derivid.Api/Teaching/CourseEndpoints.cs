using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Databases;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Courses themselves.</summary>
public static class CourseEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapCourses(this RouteGroupBuilder courses)
    {
        courses.MapPost("", MakeAsync)
            .RequireRole(Role.Instructor)
            .WithIdempotencyKey()
            .WithName("makeCourse")
            .WithSummary("Make a course")
            .WithDescription(
                "A shelf list, what the laboratory offers, how reports are taken and the rubric; whoever makes it owns it. It holds to one version of "
                + "the reference table until it is changed. An examination keeps its students from identification while it takes "
                + "their reports; a course for practice tells whoever has handed in what the unknown was, and counts for nothing; warnings tell where the service can't see to that, where the best attempt counts and guessing pays, and which "
                + "points of the rubric can't be earned of which compounds, with what to change.")
            .WithBody<CourseRequest>()
            .Produces<CourseItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapGet("", ListAsync)
            .RequireRole(Role.Student)
            .WithName("listCourses")
            .WithSummary("List courses")
            .WithDescription("Those of whose staff you are or whose roster names you; for an administrator all of them; without those "
                + "that are archived, or these alone. In order of their ids.")
            .WithQuery<CourseQuery>()
            .Produces<RowPage<CourseLink>>();
        courses.MapGet("/{id}", GetAsync)
            .RequireRole(Role.Student)
            .WithName("getCourse")
            .WithSummary("Get a course")
            .WithDescription("With its ETag, which a change has to name. A student gets less: no rubric, and who they are in it.")
            .Produces<CourseItem>()
            .ProducesProblems(ProblemTypes.NotFound);
        courses.MapPut("/{id}", ChangeAsync)
            .RequireRole(Role.Instructor)
            .TakesRevision()
            .WithName("changeCourse")
            .WithSummary("Change a course")
            .WithDescription(
                "Puts the whole description in place of the one before. What is handed out stays as it was handed out; grades stay as "
                + "they were given, until reports are graded again. Warnings tell which points can't be earned, as when it is made. By what lateness is counted in a "
                + "course marked anonymously stays once a report is handed in, until grades are published.")
            .WithBody<CourseRequest>()
            .Produces<CourseItem>()
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids, ProblemTypes.Withheld);
    }

    private static async Task<IResult> MakeAsync(
        HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TableSnapshots tables, ResourceIds ids,
        TimeProvider time)
    {
        if (!(await WriteRequest.ReadAsync<CourseRequest>(context)).Succeeded(out var write, out var problem))
        {
            return problem;
        }

        if (await courses.MadeByAsync(write.Key, context.RequestAborted) is { } before)
        {
            return await MadeAsync(context, access, before, isNew: false, time);
        }

        if (!(await tables.FindAsync(write.Body.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var course = Empty(ids.New(), write.Body.IsInvented ?? false, time.GetUtcNow().UtcDateTime);
        new CourseDescription(write.Body, table, errors).Into(course);
        if (errors.ToProblem() is { } wrong)
        {
            return wrong with { TableVersion = table.Table.Version };
        }

        var created = await courses.AddAsync(course, write.Key, write.Origin, context.RequestAborted);
        return await MadeAsync(context, access, created.Value, created.IsNew, time);
    }

    private static async Task<IResult> MadeAsync(HttpContext context, CourseAccess access, Course course, bool isNew, TimeProvider time)
    {
        WriteRequest.Made(context, $"/api/v1/courses/{course.Id}", isNew);
        Revisions.Tag(context, course.Revision);
        var item = await access.ItemOfAsync(course, context.RequestAborted);
        return Reply.Json(course.DueAtUtc is { } due && due <= time.GetUtcNow().UtcDateTime
            ? item with { Warnings = [FormattableString.Invariant($"Reports were due {due:yyyy-MM-ddTHH:mm:ssZ}, which is past, so every one would be late; change dueAt if that isn't meant."), .. item.Warnings ?? []] }
            : item);
    }

    private static Task<IResult> ListAsync(HttpContext context, Store.Teaching.Courses courses)
    {
        var caller = Caller.Of(context)!;
        var actor = caller.Role == Role.Administrator ? null : caller.Actor;
        return Pager.ListAsync<CourseQuery, Course, CourseLink>(
            context,
            (query, beyond, most) => courses.ListAsync(
                actor, caller.Role > Role.Student, query.Archived ?? false, beyond, most, context.RequestAborted),
            course => course.Id,
            ResourceIds.IsWellFormed,
            course => new CourseLink(course.Id, course.Name, course.IsInvented));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    private static async Task<IResult> GetAsync(string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem))
        {
            return problem;
        }

        Revisions.Tag(context, view.Course.Revision);
        return view.Student is { } student
            ? Reply.Json(CourseItem.Of(view.Course, student.StudentKey, await view.OwnDueAsync(courses, context.RequestAborted)))
            : Reply.Json(await access.ItemOfAsync(view.Course, context.RequestAborted));
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The courses.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> ChangeAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, TableSnapshots tables, TimeProvider time)
    {
        if (!(await access.ReadAsync<CourseRequest>(context, id)).Succeeded(out var sent, out var problem))
        {
            return problem;
        }

        var write = sent.Write;
        if (!(await tables.FindAsync(write.Body.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var isOwner = await access.IsOwnerAsync(context, id);
        var course = await courses.ChangeAsync(
            id, write.Revision, Describe, "course.change", time.GetUtcNow().UtcDateTime, write.Origin, context.RequestAborted);
        Revisions.Tag(context, course!.Revision);
        return Reply.Json(await access.ItemOfAsync(course, context.RequestAborted));

        // In the transaction: what the hand-out settles, and the first report, is settled by then or not at all.
        void Describe(Course changed, bool isHandedIn)
        {
            var errors = new FieldErrors();
            var (counted, wasLearnedFrom) = (CountedLateness.Of(changed), changed.IsLearnedFrom);
            new CourseDescription(write.Body, table, errors).Into(changed);
            if (changed.IsLearnedFrom != wasLearnedFrom && !isOwner)
            {
                throw new RefusedException(new Problem(
                    ProblemTypes.ScopeMissing,
                    $"The owners of the course and administrators say whether the table may learn from it; send isLearnedFrom as it is, {(wasLearnedFrom ? "true" : "false")}."));
            }

            if (write.Body.IsInvented is { } invented && invented != changed.IsInvented)
            {
                errors.Add("/isInvented", "It can't be changed; leave it out, or make another course.");
            }

            if ((errors.ToProblem() is { } wrong ? wrong with { TableVersion = table.Table.Version } : AnonymousMarking.Changing(counted, changed, isHandedIn))
                is { } refused)
            {
                throw new RefusedException(refused);
            }
        }
    }

    private static Course Empty(string id, bool isInvented, DateTime now) => new()
    {
        Id = id,
        Name = "",
        TableVersion = 0,
        ShelfKeys = [],
        KindKeys = [],
        SpotTestKeys = [],
        WindowCelsius = 0,
        RubricJson = "",
        MostAttempts = 1,
        IsInvented = isInvented,
        Revision = 1,
        CreatedAtUtc = now,
    };
}

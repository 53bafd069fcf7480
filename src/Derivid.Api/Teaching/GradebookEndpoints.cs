using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>The gradebook of a course, for learning systems.</summary>
public static class GradebookEndpoints
{
    /// <summary>Maps it.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapGradebook(this RouteGroupBuilder courses)
    {
        courses.MapGet("/{id}/gradebook", GetAsync)
            .RequireRole(Role.Grader)
            .WithName("getGradebook")
            .WithSummary("Get the gradebook of a course")
            .WithDescription(
                "Everybody of the roster, in its order, with one percentage and one text of feedback, whether they handed anything in "
                + "or not: who didn't has 0 or nothing, as the grading's missingCountsZero says, and the feedback says so. The "
                + "percentage is the mean of the student's unknowns. The feedback is what the student may read, without what would "
                + "give an answer away. A course for practice has no percentages, and says so. Of the grading published, or of any that is finished; of a course marked anonymously only once grades are published. With Accept: text/csv as a CSV file.")
            .WithQuery<GradebookQuery>()
            .Produces<GradebookItem>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.Csv)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.Withheld, ProblemTypes.CourseStateForbids);
        courses.MapGet("/{id}/gradebook/oneroster.zip", ExportAsync)
            .RequireRole(Role.Grader)
            .WithName("exportOneRoster")
            .WithSummary("Export the published grades as OneRoster 1.2")
            .WithDescription(
                "A ZIP archive of manifest.csv, lineItems.csv and results.csv in delta mode (1EdTech OneRoster 1.2, CSV binding): one line "
                + "item for the course from 0 to 100, and a result for everybody of the roster to whom an unknown is handed out, whose "
                + "studentSourcedId is the roster's identifier. The ids stay the same however often grades are published and exported. "
                + "The files refer to class, category, academic session and school by the ids given in the address, which the "
                + "receiving system knows. Of a course for practice there is none. Dates are in UTC, dateLastModified is when it was exported.")
            .WithQuery<OneRosterQuery>()
            .Produces<byte[]>(StatusCodes.Status200OK, MediaTypes.Zip)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.Withheld, ProblemTypes.CourseStateForbids);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="gradebooks">Puts it together.</param>
    private static async Task<IResult> GetAsync(
        string id, HttpContext context, CourseAccess access, Gradings gradings, Gradebooks gradebooks)
    {
        if (!RequestQuery.Read<GradebookQuery>(context.Request).Succeeded(out var query, out var problem)
            || !(await access.FindAsync(context, id)).Succeeded(out var view, out problem))
        {
            return problem;
        }

        if (view.IsMarkedBlind)
        {
            return new Problem(ProblemTypes.Withheld, AnonymousMarking.Withheld);
        }

        if ((query.Grading ?? view.Course.PublishedGradingId) is not { } chosen)
        {
            return new Problem(ProblemTypes.Withheld, "No grades are published yet; name a grading with ?grading=.");
        }

        if (!(await GradingEndpoints.FindAsync(id, chosen, gradings, context.RequestAborted)).Succeeded(out var grading, out problem))
        {
            return problem;
        }

        if (grading.FinishedAtUtc is null)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "The grading is still under way; its gradebook is there when it is finished.");
        }

        var book = await gradebooks.ReadAsync(view.Course, grading, context.RequestAborted);
        context.Response.Headers.CacheControl = "no-store";
        return CsvText.IsWantedBy(context.Request) ? CsvText.Answer(context, Gradebooks.Csv(book), "gradebook.csv") : Reply.Json(book);
    }

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="gradings">The gradings.</param>
    /// <param name="handOuts">When the unknowns were handed out.</param>
    /// <param name="gradebooks">Puts the grades together.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> ExportAsync(
        string id, HttpContext context, CourseAccess access, Gradings gradings, HandOuts handOuts, Gradebooks gradebooks, TimeProvider time)
    {
        // Whose course it is first: to others it is not there, whatever they ask of it.
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem)
            || !RequestQuery.Read<OneRosterQuery>(context.Request).Succeeded(out var query, out problem))
        {
            return problem;
        }

        var course = view.Course;
        if (course.IsPractice)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "The course is for practice and counts for nothing, so a learning system gets nothing of it.");
        }

        if (view.IsMarkedBlind)
        {
            return new Problem(ProblemTypes.Withheld, AnonymousMarking.Withheld);
        }

        if (course.PublishedGradingId is not { } published)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "No grades are published yet; a learning system gets those that students see.");
        }

        if (course.DueAtUtc is not { } due)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "OneRoster asks when the reports were due; give the course its dueAt.");
        }

        var grading = (await gradings.FindAsync(id, published, context.RequestAborted))!;
        var book = await gradebooks.ReadAsync(course, grading, context.RequestAborted);
        var handOut = (await handOuts.FindAsync(id, course.HandOutNumber, context.RequestAborted))!;
        var results = new OneRosterResults(query, time.GetUtcNow().UtcDateTime);
        if (results.Refused(book) is { } wrong)
        {
            return wrong;
        }

        context.Response.Headers.CacheControl = "no-store";
        return Results.Bytes(
            results.Zip(course, handOut.HandedOutAtUtc, due, grading.FinishedAtUtc!.Value, book), MediaTypes.Zip, "oneroster.zip");
    }
}

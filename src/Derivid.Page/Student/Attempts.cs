using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Page.Failures;

namespace Derivid.Page.Student;

/// <summary>A student's reports on one unknown.</summary>
/// <param name="Draft">The one being written. Missing: null, none is begun.</param>
/// <param name="HandedIn">How many are handed in.</param>
internal sealed record Attempts(Versioned<ReportItem>? Draft, int HandedIn)
{
    /// <summary>Finds those on an unknown of the caller's.</summary>
    /// <param name="client">The service.</param>
    /// <param name="course">The course.</param>
    /// <param name="code">Code of the unknown.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="FailureException">No unknown of theirs has the code.</exception>
    public static async Task<Attempts> FindAsync(DerividClient client, string course, string code, CancellationToken cancellationToken)
    {
        var unknown = await client.Courses.ListAssignmentsAsync(course, false, cancellationToken).FirstOrDefaultAsync(each => each.Code == code, cancellationToken)
            ?? throw FailureException.NotFound($"There is no unknown with the code {code} for you in this course. Your codes stand on your labels and in the view of the course.");
        var reports = await client.Reports.ListAsync(course, cancellationToken).Where(each => each.Number == unknown.Number).ToListAsync(cancellationToken);
        var draft = reports.Find(each => each.HandedInAt is null);
        return new Attempts(
            draft is null ? null : await client.Reports.GetAsync(course, draft.Id, cancellationToken),
            reports.Count(each => each.HandedInAt is not null));
    }

    /// <summary>From when on none of the student's reports is taken. Units: UTC. Missing: null, until grades are published.</summary>
    /// <param name="course">The course, as the student is told of it.</param>
    public static DateTime? ClosesAt(CourseItem course) =>
        course.ExtendedTo?.AddMinutes(course.GraceMinutes) is { } own && own > course.ClosesAt ? own : course.ClosesAt;

    /// <summary>Why no report can be written or handed in. Missing: null, one can.</summary>
    /// <param name="course">The course.</param>
    public string? Closed(CourseItem course) => Closed(course, HandedIn);

    /// <summary>The same of a number of reports.</summary>
    /// <param name="course">The course.</param>
    /// <param name="handedIn">Reports handed in on the unknown.</param>
    public static string? Closed(CourseItem course, int handedIn) =>
        course.AreGradesPublished == true ? "Grades are published, so no report is taken any more."
        : ClosesAt(course) <= DateTime.UtcNow ? "The time is over, so no report is taken any more."
        : handedIn >= course.MostAttempts ? $"{Figure.Count(handedIn, "report")} on it handed in, as many as are taken."
        : null;
}

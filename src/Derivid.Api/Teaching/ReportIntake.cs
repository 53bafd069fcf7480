using Derivid.Api.Http;
using Derivid.Api.Practice;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Takes reports in: whose unknown it is, whether the course takes reports, what the report says.</summary>
/// <param name="courses">The rosters, with who has longer.</param>
/// <param name="handOuts">The unknowns handed out.</param>
/// <param name="tables">The versions of the table.</param>
/// <param name="thermometers">What is known of the thermometers that reports name.</param>
public sealed class ReportIntake(
    Store.Teaching.Courses courses, HandOuts handOuts, TableSnapshots tables, RegisteredThermometers thermometers)
{
    /// <summary>Reads a report that is to be kept.</summary>
    /// <param name="view">The course and who writes.</param>
    /// <param name="request">The report; its shape has been checked.</param>
    /// <param name="now">When it was here to its last byte, see <see cref="Arrival"/>. Units: UTC.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<Outcome<WrittenReport>> ReadAsync(
        CourseView view, ReportRequest request, DateTime now, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(request);
        var errors = new FieldErrors();
        var assignment = await AssignmentAsync(view, request.Assignment, errors, cancellationToken);
        var due = view.Student is null && assignment is not null
            ? await courses.DueOfAsync(view.Course.Id, view.Course.HandOutNumber, assignment.HolderKey, cancellationToken)
            : await view.OwnDueAsync(courses, cancellationToken);
        if (Closed(view.Course, due, now) is { } closed)
        {
            return closed;
        }

        if (!(await tables.FindAsync(view.Course.TableVersion, cancellationToken)).Succeeded(out var table, out var problem)
            || !(await thermometers.IntoAsync(request.Observation ?? new IdentificationRequest(), table, "/observation", cancellationToken))
                .Succeeded(out var observation, out problem))
        {
            return problem;
        }

        var body = ReportBody.Of(request with { Observation = observation }, table, errors);
        if (request.IsDraft != true && body.SaysNothing(table))
        {
            errors.Add("", "The report says nothing: no observation, claim, reasoning or notes. An empty report is no attempt; nothing is handed in.");
        }

        return errors.ToProblem() is { } wrong
            ? wrong with { TableVersion = table.Table.Version }
            : new WrittenReport(assignment!, body.ToJson(), now, request.IsDraft == true ? null : now);
    }

    private static Problem? Closed(Course course, DateTime? ownDueAtUtc, DateTime now) => course.TakesReportsAt(now, ownDueAtUtc)
        ? null
        : new Problem(ProblemTypes.CourseStateForbids, course switch
        {
            { HandOutNumber: 0 } => "Nothing is handed out in this course yet.",
            { PublishedGradingId: not null } => "Grades are published; the course takes no reports any more.",
            _ => FormattableString.Invariant($"The course took reports until {course.ClosesFor(ownDueAtUtc):yyyy-MM-ddTHH:mm:ssZ}."),
        });

    // One message for a code never handed out and for somebody else's, so that codes can't be tried out.
    private async Task<Assignment?> AssignmentAsync(
        CourseView view, string text, FieldErrors errors, CancellationToken cancellationToken)
    {
        if (!UnknownCode.TryParse(text, out var code, out var error))
        {
            errors.Add("/assignment", error!);
            return null;
        }

        var rows = await handOuts.AssignmentsAsync(
            view.Course.Id, view.Course.HandOutNumber, view.Student?.StudentKey, cancellationToken);
        var found = rows.FirstOrDefault(row => row.Code == code!.Text);
        if (found is null)
        {
            errors.Add("/assignment", $"No unknown with the code {code} is yours in this course.");
        }

        return found;
    }
}

/// <summary>A report taken in, to be kept.</summary>
/// <param name="Assignment">What it is about.</param>
/// <param name="BodyJson">What it says.</param>
/// <param name="WrittenAtUtc">When. Units: UTC.</param>
/// <param name="HandedInAtUtc">When it is handed in. Units: UTC. Missing: null, it is a draft.</param>
public sealed record WrittenReport(
    Assignment Assignment, string BodyJson, DateTime WrittenAtUtc, DateTime? HandedInAtUtc)
{
    /// <summary>The report as a new attempt.</summary>
    /// <param name="id">Its id.</param>
    public CourseReport ToReport(string id) => new()
    {
        Id = id,
        CourseId = Assignment.CourseId,
        HandOutNumber = Assignment.HandOutNumber,
        StudentKey = Assignment.HolderKey,
        Number = Assignment.Number,
        BodyJson = BodyJson,
        CreatedAtUtc = WrittenAtUtc,
        HandedInAtUtc = HandedInAtUtc,
        Revision = 1,
    };

    /// <summary>Whether it is about the same unknown as a report it is to replace.</summary>
    /// <param name="report">The report.</param>
    /// <returns>The problem of one that isn't. Missing: null, it is.</returns>
    public Problem? IsAbout(CourseReport report)
    {
        ArgumentNullException.ThrowIfNull(report);
        return (report.HandOutNumber, report.StudentKey, report.Number)
            == (Assignment.HandOutNumber, Assignment.HolderKey, Assignment.Number)
            ? null
            : FieldErrors.One(
                "/assignment", $"The draft is about another unknown than {Assignment.Code}; begin a new one for this.");
    }
}

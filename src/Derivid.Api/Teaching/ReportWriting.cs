using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Takes reports in: whose unknown it is, whether the course takes reports, what the report says.</summary>
/// <param name="handOuts">The unknowns handed out.</param>
/// <param name="tables">The versions of the table.</param>
/// <param name="time">The clock.</param>
public sealed class ReportWriting(HandOuts handOuts, TableSnapshots tables, TimeProvider time)
{
    /// <summary>Reads a report that is to be kept.</summary>
    /// <param name="view">The course and who writes.</param>
    /// <param name="request">The report; its shape has been checked.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<Outcome<WrittenReport>> ReadAsync(
        CourseView view, ReportRequest request, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(view);
        ArgumentNullException.ThrowIfNull(request);
        var now = time.GetUtcNow().UtcDateTime;
        if (Closed(view.Course, now) is { } closed)
        {
            return closed;
        }

        if (!(await tables.FindAsync(view.Course.TableVersion, cancellationToken)).Succeeded(out var table, out var problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var assignment = await AssignmentAsync(view, request.Assignment, errors, cancellationToken);
        var body = ReportReading.Of(request, table, errors);
        return errors.ToProblem() is { } wrong
            ? wrong with { TableVersion = table.Table.Version }
            : new WrittenReport(assignment!, body, now, request.IsDraft == true ? null : now);
    }

    private static Problem? Closed(Course course, DateTime now) => course switch
    {
        { HandOutNumber: 0 } => new Problem(ProblemTypes.CourseStateForbids, "Nothing is handed out in this course yet."),
        { PublishedGradingId: not null } => new Problem(
            ProblemTypes.CourseStateForbids, "Grades are published; the course takes no reports any more."),
        { ClosesAtUtc: { } closes } when closes <= now => new Problem(
            ProblemTypes.CourseStateForbids,
            FormattableString.Invariant($"The course took reports until {closes:yyyy-MM-ddTHH:mm:ssZ}.")),
        _ => null,
    };

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

using Derivid.Client;
using Derivid.Contracts;
using Derivid.Page.Failures;

namespace Derivid.Page.Student;

/// <summary>A student's drafts.</summary>
internal static class Drafts
{
    /// <summary>Finds the draft on an unknown of the caller's.</summary>
    /// <param name="client">The service.</param>
    /// <param name="course">The course.</param>
    /// <param name="code">Code of the unknown.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Missing: null, none is begun.</returns>
    /// <exception cref="FailureException">No unknown of theirs has the code.</exception>
    public static async Task<Versioned<ReportItem>?> FindAsync(DerividClient client, string course, string code, CancellationToken cancellationToken)
    {
        var unknown = await client.Courses.ListAssignmentsAsync(course, false, cancellationToken).FirstOrDefaultAsync(each => each.Code == code, cancellationToken)
            ?? throw FailureException.NotFound($"There is no unknown with the code {code} for you in this course. Your codes stand on your labels and in the view of the course.");
        var draft = await client.Reports.ListAsync(course, cancellationToken)
            .FirstOrDefaultAsync(each => each.Number == unknown.Number && each.HandedInAt is null, cancellationToken);
        return draft is null ? null : await client.Reports.GetAsync(course, draft.Id, cancellationToken);
    }
}

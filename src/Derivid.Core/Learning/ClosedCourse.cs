using Derivid.Core.Observations;

namespace Derivid.Core.Learning;

/// <summary>The reports of one course whose unknowns are no secret any more: all that learning ever sees of a class.</summary>
/// <remarks>
/// A course is taken only if its staff opted in and its grades are published, so that no unknown in it is open. There is no
/// place here for a name, a vial or the course itself: whoever fills it leaves them behind, and numbers students anew. Thread safety: immutable.
/// </remarks>
public sealed class ClosedCourse
{
    /// <summary>Takes the reports of a course.</summary>
    /// <param name="reports">What was handed in. Shape: any order; it carries no meaning.</param>
    /// <param name="hasOptedIn">Whether the course's staff agreed that its reports be learned from.</param>
    /// <param name="areGradesPublished">Whether its grades are published.</param>
    /// <exception cref="ArgumentException">The course did not opt in, or its grades are not published.</exception>
    public ClosedCourse(IEnumerable<KnownReport> reports, bool hasOptedIn, bool areGradesPublished)
    {
        ArgumentNullException.ThrowIfNull(reports);
        if (!hasOptedIn)
        {
            throw new ArgumentException("Nothing is learned from a course that did not opt in.", nameof(hasOptedIn));
        }

        if (!areGradesPublished)
        {
            throw new ArgumentException("Nothing is learned from a course before its grades are published.", nameof(areGradesPublished));
        }

        Reports = [.. reports];
    }

    /// <summary>The reports.</summary>
    internal IReadOnlyList<KnownReport> Reports { get; }
}

/// <summary>What somebody saw of an unknown whose compound is known by now.</summary>
/// <param name="ParentKey">What the vial's label stands for.</param>
/// <param name="Observation">What was seen.</param>
/// <param name="Student">
/// Who saw it: a number drawn for this course alone, by which several reports of one student count as one student. It goes no further.
/// </param>
public sealed record KnownReport(string ParentKey, Observation Observation, int Student);

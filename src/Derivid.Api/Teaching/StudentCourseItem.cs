using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A course as one of its students sees it.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Name">Its name.</param>
/// <param name="Student">Who you are in it.</param>
/// <param name="TableVersion">Version of the reference table the course holds to.</param>
/// <param name="ShelfList">The parents that can be unknowns, by key.</param>
/// <param name="DerivativeKinds">The derivative kinds that can be made, by key.</param>
/// <param name="SpotTests">The spot tests that can be run, by key.</param>
/// <param name="DueAt">When reports are due (RFC 3339, UTC). Missing: none is late.</param>
/// <param name="ClosesAt">From when on no report is taken (RFC 3339, UTC). Missing: until grades are published.</param>
/// <param name="MostAttempts">Reports that may be handed in for one unknown; the last one counts.</param>
/// <param name="ShowsRanking">Whether you see the engine's ranking of your own report.</param>
/// <param name="AreGradesPublished">Whether grades are published.</param>
/// <param name="IsInvented">Whether class and readings are invented, for showing the service.</param>
/// <param name="IsExamination">Whether the service identifies nothing for you while the course takes reports.</param>
public sealed record StudentCourseItem(
    string Id,
    string Name,
    string Student,
    int TableVersion,
    IReadOnlyList<string> ShelfList,
    IReadOnlyList<string> DerivativeKinds,
    IReadOnlyList<string> SpotTests,
    DateTime? DueAt,
    DateTime? ClosesAt,
    int MostAttempts,
    bool ShowsRanking,
    bool AreGradesPublished,
    bool IsInvented,
    bool IsExamination)
{
    /// <summary>Translates.</summary>
    /// <param name="course">The course.</param>
    /// <param name="student">The student.</param>
    public static StudentCourseItem Of(Course course, CourseStudent student)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(student);
        return new StudentCourseItem(
            course.Id,
            course.Name,
            student.StudentKey,
            course.TableVersion,
            course.ShelfKeys,
            course.KindKeys,
            course.SpotTestKeys,
            course.DueAtUtc,
            course.ClosesAtUtc,
            course.MostAttempts,
            course.ShowsRanking,
            course.PublishedGradingId is not null,
            course.IsInvented,
            course.IsExamination);
    }
}

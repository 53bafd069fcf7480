using Derivid.Api.Http;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

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
        StudentKey = Assignment.StudentKey,
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
        if ((report.HandOutNumber, report.StudentKey, report.Number)
            == (Assignment.HandOutNumber, Assignment.StudentKey, Assignment.Number))
        {
            return null;
        }

        var errors = new FieldErrors();
        errors.Add("/assignment", $"The draft is about another unknown than {Assignment.Code}; begin a new one for this.");
        return errors.ToProblem();
    }
}

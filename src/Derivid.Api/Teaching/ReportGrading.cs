using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Reports between archive and laboratory, for grading and for looking at a class.</summary>
public static class ReportGrading
{
    /// <summary>A report as the laboratory takes it.</summary>
    /// <param name="report">The report.</param>
    /// <param name="due">When it was due. Units: UTC. Missing: null.</param>
    /// <param name="table">The version of the table.</param>
    /// <returns>Or why this version of the table can't take it.</returns>
    public static Outcome<Report> ReportOf(CourseReport report, DateTime? due, ServedTable table)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(table);
        var body = ReportBody.Kept(report);
        if (body.ClaimedParent is { } claimed && !table.ParentByKey.ContainsKey(claimed))
        {
            return new Problem(ProblemTypes.InvalidRequest, table.Parents.Unknown(claimed));
        }

        return body.ObservationOn(table).Succeeded(out var observation, out var problem)
            ? new Report
            {
                Observation = observation,
                ClaimedParentKey = body.ClaimedParent,
                ClaimedKind = body.ClaimedKind,
                Attempt = report.Attempt,
                Lateness = due is { } by && report.HandedInAtUtc > by ? report.HandedInAtUtc.Value - by : TimeSpan.Zero,
            }
            : problem;
    }

    /// <summary>Grades a report.</summary>
    /// <param name="waiting">The report and what it is about.</param>
    /// <param name="shelfKeys">The shelf list it was taken from.</param>
    /// <param name="grading">By what.</param>
    /// <param name="rubric">The grading's rubric.</param>
    /// <param name="table">The grading's version of the table.</param>
    /// <param name="now">When. Units: UTC.</param>
    public static Outcome<CourseGrade> GradeOf(
        ReportToGrade waiting,
        IReadOnlyList<string> shelfKeys,
        Grading grading,
        Rubric rubric,
        ServedTable table,
        DateTime now)
    {
        ArgumentNullException.ThrowIfNull(waiting);
        ArgumentNullException.ThrowIfNull(shelfKeys);
        ArgumentNullException.ThrowIfNull(grading);
        ArgumentNullException.ThrowIfNull(table);
        if (shelfKeys.FirstOrDefault(key => !table.ParentByKey.ContainsKey(key)) is { } missing)
        {
            return new Problem(ProblemTypes.InvalidRequest, $"Of the shelf list: {table.Parents.Unknown(missing)}");
        }

        if (!ReportOf(waiting.Report, grading.DueAtUtc, table).Succeeded(out var report, out var problem))
        {
            return problem;
        }

        var unknown = new Unknown(waiting.ParentKey, shelfKeys)
        {
            KindKeys = grading.KindKeys,
            SpotTestKeys = grading.SpotTestKeys,
        };
        var grade = Grader.Grade(report, unknown, rubric, table.Snapshot);
        return new CourseGrade(
            waiting.Report.Id,
            grading.Basis,
            JsonSerializer.Serialize(grade, ServiceContext.Wire.Grade),
            (double)grade.Total,
            (double)grade.Maximum,
            now);
    }

    /// <summary>A grade as it was kept.</summary>
    /// <param name="grade">The grade.</param>
    public static Grade Kept(CourseGrade grade)
    {
        ArgumentNullException.ThrowIfNull(grade);
        return JsonSerializer.Deserialize(grade.GradeJson, ServiceContext.Wire.Grade)!;
    }
}

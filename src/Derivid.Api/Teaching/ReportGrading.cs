using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Reports between archive and laboratory, for grading and for looking at a class.</summary>
public static class ReportGrading
{
    private static readonly Dictionary<string, DateTime> NoExtensions = [];

    /// <summary>A report as the laboratory takes it.</summary>
    /// <param name="report">The report.</param>
    /// <param name="deadlines">When it was due.</param>
    /// <param name="table">The version of the table.</param>
    /// <returns>Or why this version of the table can't take it.</returns>
    public static Outcome<Report> ReportOf(CourseReport report, Deadlines deadlines, ServedTable table)
    {
        ArgumentNullException.ThrowIfNull(report);
        ArgumentNullException.ThrowIfNull(deadlines);
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
                Lateness = report.HandedInAtUtc is { } handedIn ? deadlines.LatenessOf(report.StudentKey, handedIn) : TimeSpan.Zero,
            }
            : problem;
    }

    /// <summary>Grades a report.</summary>
    /// <param name="waiting">The report and what it is about.</param>
    /// <param name="shelfKeys">The shelf list it was taken from.</param>
    /// <param name="grading">By what.</param>
    /// <param name="deadlines">The grading's.</param>
    /// <param name="rubric">The grading's rubric.</param>
    /// <param name="table">The grading's version of the table.</param>
    /// <param name="now">When. Units: UTC.</param>
    public static Outcome<CourseGrade> GradeOf(
        ReportToGrade waiting,
        IReadOnlyList<string> shelfKeys,
        Grading grading,
        Deadlines deadlines,
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

        if (!ReportOf(waiting.Report, deadlines, table).Succeeded(out var report, out var problem))
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

    /// <summary>When the reports of a grading were due.</summary>
    /// <param name="grading">The grading.</param>
    public static Deadlines DeadlinesOf(Grading grading)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return new Deadlines(
            grading.DueAtUtc,
            grading.GraceMinutes,
            grading.ExtensionsJson is { } json ? JsonSerializer.Deserialize(json, ServiceContext.Wire.Moments)! : NoExtensions);
    }

    /// <summary>When the reports of a course are due.</summary>
    /// <param name="course">The course.</param>
    /// <param name="roster">Its students.</param>
    /// <param name="unknowns">The unknowns handed out: of those who share one, the latest extension holds for all.</param>
    public static Deadlines DeadlinesOf(Course course, IEnumerable<CourseStudent> roster, IEnumerable<Assignment> unknowns)
    {
        ArgumentNullException.ThrowIfNull(course);
        var holders = unknowns.GroupBy(row => row.StudentKey, StringComparer.Ordinal)
            .ToDictionary(rows => rows.Key, rows => rows.First().HolderKey, StringComparer.Ordinal);

        // In one order, since it stands in the basis of grades.
        return new Deadlines(
            course.DueAtUtc,
            course.GraceMinutes,
            roster.Where(student => student.DueAtUtc > course.DueAtUtc)
                .GroupBy(student => holders.GetValueOrDefault(student.StudentKey, student.StudentKey), StringComparer.Ordinal)
                .OrderBy(sharing => sharing.Key, StringComparer.Ordinal)
                .ToDictionary(sharing => sharing.Key, sharing => sharing.Max(student => student.DueAtUtc!.Value), StringComparer.Ordinal));
    }

    /// <summary>The attempts that count of the reports of a grading: where the best counts, of each unknown the one with the most points.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="graded">Its reports, all of whoever is among them.</param>
    /// <returns>Of each of a group its own: points given to one member can make another attempt theirs.</returns>
    public static IReadOnlySet<GradePlace> Counting(Grading grading, IEnumerable<GradedReport> graded)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return grading.CountsBest
            ? graded.GroupBy(row => (row.Assignment.StudentKey, row.Report.Number))
                .Select(attempts => attempts.MaxBy(row => (ShareOf(row) ?? -1, row.Report.Attempt))!.Place).ToHashSet()
            : graded.Select(row => row.Place).ToHashSet();
    }

    // Of the most points there are, since a line that is marked by hand has some once it is marked. Missing: null, not graded.
    private static decimal? ShareOf(GradedReport graded)
    {
        if (graded.Grade is not { } kept)
        {
            return null;
        }

        var grade = ModeratedGrade.Of(Kept(kept), graded.Moderations.Select(row => row.ToModeration()));
        return grade.Maximum > 0 ? grade.Total / grade.Maximum : 0;
    }

    /// <summary>A grade as it was kept.</summary>
    /// <param name="grade">The grade.</param>
    public static Grade Kept(CourseGrade grade)
    {
        ArgumentNullException.ThrowIfNull(grade);
        return JsonSerializer.Deserialize(grade.GradeJson, ServiceContext.Wire.Grade)!;
    }
}

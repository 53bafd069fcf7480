using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Makes a grading of what was asked for.</summary>
/// <param name="courses">The rosters.</param>
/// <param name="handOuts">The unknowns handed out.</param>
/// <param name="reports">The reports.</param>
/// <param name="gradings">Keeps it.</param>
/// <param name="worker">Carries it out.</param>
/// <param name="tables">The versions of the table.</param>
/// <param name="ids">Makes its id.</param>
/// <param name="time">The clock.</param>
public sealed class GradingStart(
    Store.Teaching.Courses courses, HandOuts handOuts, Reports reports, Gradings gradings, GradingWorker worker, TableSnapshots tables,
    ResourceIds ids, TimeProvider time)
{
    /// <summary>Starts it.</summary>
    /// <param name="course">The course, read when the request was here to its last byte.</param>
    /// <param name="write">What was asked for; its shape has been checked.</param>
    /// <param name="names">By which names reports and students are told.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>The grading, and whether it is new; else an earlier request of the same key started it.</returns>
    public async Task<Outcome<Created<Grading>>> RunAsync(
        Course course, WriteRequest<GradingRequest> write, MarkedNames names, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(write);
        ArgumentNullException.ThrowIfNull(names);
        if (await gradings.MadeByAsync(write.Key, cancellationToken) is { } before)
        {
            return new Created<Grading>(before, IsNew: false);
        }

        if (CourseAccess.Archived(course) is { } archived)
        {
            return archived;
        }

        if (!(await tables.FindAsync(write.Body.TableVersion ?? course.TableVersion, cancellationToken))
            .Succeeded(out var table, out var problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var rubric = write.Body.Rubric is { } sent
            ? Rubrics.Read(sent, "/rubric", errors)
            : Rubrics.Kept(course.RubricJson);
        var counted = await reports.CountedAsync(course.Id, course.HandOutNumber, course.CountsBest, cancellationToken);
        var unknowns = await handOuts.AssignmentsAsync(course.Id, course.HandOutNumber, null, cancellationToken);
        var chosen = Chosen(write.Body, counted, unknowns, names, errors);
        if (errors.ToProblem() is { } wrong)
        {
            return wrong;
        }

        if (AnonymousMarking.Grading(course, rubric) is { } uncovers)
        {
            return uncovers;
        }

        if (chosen.Count == 0)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "There is no report to grade: none is handed in, or none fits.");
        }

        var deadlines = ReportGrading.DeadlinesOf(course, await courses.RosterAsync(course.Id, cancellationToken), unknowns);
        var grading = Of(course, deadlines, rubric, table, write.Body.MissingCountsZero ?? true, chosen.Count);
        var created = await gradings.AddAsync(course, grading, chosen, write.Key, write.Origin, cancellationToken);
        worker.Wake();
        return created;
    }

    // The ids of the reports asked for; they mean something only while no faults were noted.
    private static List<string> Chosen(
        GradingRequest request, IReadOnlyList<CountedReport> counted, IReadOnlyList<Assignment> unknowns, MarkedNames names, FieldErrors errors)
    {
        // A student stands for their group, whose reports are kept under one of them.
        var holders = names.IsBlind || request.Students is null ? [] : unknowns.GroupBy(row => row.StudentKey, StringComparer.Ordinal)
            .ToDictionary(rows => rows.Key, rows => rows.First().HolderKey, StringComparer.Ordinal);
        var asked = request.Students?.Select(key => holders.GetValueOrDefault(key, key)).ToList();
        var called = counted.Select(report => (report.Id, Called: names.Report(report.Id), Student: names.Student(report.StudentKey))).ToList();
        var byId = called.Select(report => report.Called).ToHashSet(StringComparer.Ordinal);
        var students = called.Select(report => report.Student).ToHashSet(StringComparer.Ordinal);
        foreach (var (id, i) in (request.Reports ?? []).Select((id, i) => (id, i)).Where(item => !byId.Contains(item.id)))
        {
            errors.Add(
                JsonPointer.Item("/reports", i),
                $"{Text.Quoted(id)} is no report of this course that counts: handed in, and the last one for its unknown where not the best counts.");
        }

        foreach (var (key, i) in (request.Students ?? []).Select((key, i) => (key, i)).Where(item => !students.Contains(asked![item.i])))
        {
            errors.Add(
                JsonPointer.Item("/students", i),
                names.IsBlind
                    ? $"{Text.Quoted(key)} is no marking code here; until grades are published students are named by those alone."
                    : $"{Text.Quoted(key)} has handed in no report in this course.");
        }

        return [.. called
            .Where(report => request.Reports?.Contains(report.Called) ?? true)
            .Where(report => asked?.Contains(report.Student) ?? true)
            .Select(report => report.Id)];
    }

    /// <summary>What grades of a grading rest on where this service works them out; see <see cref="Grading.Basis"/>.</summary>
    /// <param name="grading">The grading.</param>
    public static string BasisOf(Grading grading)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return BasisOf(
            grading.RubricJson, grading.TableVersion, grading.ModelVersion, grading.KindKeys, grading.SpotTestKeys, grading.DueAtUtc,
            grading.GraceMinutes, grading.ExtensionsJson);
    }

    private Grading Of(Course course, Deadlines deadlines, Rubric rubric, ServedTable table, bool missingCountsZero, int reports)
    {
        var written = Rubrics.Written(rubric);
        var extensions = deadlines.Extended.Count > 0
            ? JsonSerializer.Serialize(new Dictionary<string, DateTime>(deadlines.Extended), ServiceContext.Wire.Moments)
            : null;
        return new Grading
        {
            Id = ids.New(),
            CourseId = course.Id,
            Basis = BasisOf(
                written, table.Table.Version, table.ModelVersion, course.KindKeys, course.SpotTestKeys, course.DueAtUtc,
                course.GraceMinutes, extensions),
            RubricJson = written,
            TableVersion = table.Table.Version,
            ModelVersion = table.ModelVersion,
            KindKeys = course.KindKeys,
            SpotTestKeys = course.SpotTestKeys,
            DueAtUtc = course.DueAtUtc,
            GraceMinutes = course.GraceMinutes,
            ExtensionsJson = extensions,
            CountsBest = course.CountsBest,
            MissingCountsZero = missingCountsZero,
            Total = reports,
            CreatedAtUtc = time.GetUtcNow().UtcDateTime,
        };
    }

    // Grace and extensions stand in it where there are some, so that grades given before there were any are found again.
    private static string BasisOf(
        string rubric, int tableVersion, string modelVersion, IReadOnlyList<string> kinds, IReadOnlyList<string> tests, DateTime? due, int grace, string? extensions) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Create(
            CultureInfo.InvariantCulture,
            $"{rubric}\n{tableVersion}\n{modelVersion}\n{Grader.MarkingRules}\n{string.Join(' ', kinds)}\n{string.Join(' ', tests)}\n{due:O}{(grace == 0 && extensions is null ? "" : $"\n{grace}\n{extensions}")}"))));
}

using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Teaching;

/// <summary>Keeps gradings and grades.</summary>
/// <remarks>
/// A grading is a list of reports, each done or not. A batch of grades and the marking of its reports as done are one
/// transaction, so a process that is killed leaves each report either done with its grade or not done.
/// </remarks>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes changes down.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
/// <param name="time">The clock.</param>
public sealed class Gradings(DerividDatabase database, AuditTrail audit, IdempotentWrites writes, TimeProvider time)
{
    /// <summary>How long one process has a grading to itself before another may take it over. Given back after each batch.</summary>
    public static readonly TimeSpan Lease = TimeSpan.FromSeconds(15);

    /// <summary>Keeps a new grading.</summary>
    /// <param name="course">The course as it was read when the grading was made of it.</param>
    /// <param name="grading">The grading.</param>
    /// <param name="reportIds">Its reports.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="CourseRuleException">The course was changed since, isn't theirs or is archived; nothing was changed.</exception>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<Grading>> AddAsync(
        Course course,
        Grading grading,
        IEnumerable<string> reportIds,
        IdempotencyKey? key,
        AuditOrigin origin,
        CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        async (context, token) =>
        {
            // Due dates, extensions and what is offered were read with it, and in a course marked anonymously must be those in force.
            Courses.RefuseStale(await Courses.HoldInUseAsync(context, course.Id, origin, token), course.Revision);
            context.Gradings.Add(grading);
            context.GradingEntries.AddRange(reportIds.Select(id => new GradingEntry { GradingId = grading.Id, ReportId = id }));
            return new Creation<Grading>(grading, grading.Id, new AuditedAct("grading.start", Resource(grading), grading.TableVersion));
        },
        FindAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<Grading?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, FindAsync, cancellation);

    /// <summary>Finds one.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The grading. Missing: null, no such grading.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Grading?> FindAsync(string courseId, string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Gradings.AsNoTracking()
            .FirstOrDefaultAsync(row => row.CourseId == courseId && row.Id == id, token),
        cancellation);

    /// <summary>Lists the gradings of a course, oldest first.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<GradingDone>> ListAsync(
        string courseId, string? beyond, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Gradings.AsNoTracking()
            .Where(row => row.CourseId == courseId)
            .OldestFirst(beyond, most)
            .Select(row => new GradingDone(
                row, context.GradingEntries.Count(item => item.GradingId == row.Id && item.IsDone)))
            .ToListAsync(token),
        cancellation);

    /// <summary>The finished grading asked for last.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Its id. Missing: null, none is finished.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<string?> NewestAsync(string courseId, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Gradings.AsNoTracking()
            .Where(row => row.CourseId == courseId && row.FinishedAtUtc != null)
            .OrderByDescending(row => row.Id).Select(row => row.Id).FirstOrDefaultAsync(token),
        cancellation);

    /// <summary>The grade of one report.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="reportId">The report.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Missing: null, the report is not in the grading, not done yet, or it could not be graded.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<CourseGrade?> GradeAsync(Grading grading, string reportId, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.CourseGrades.AsNoTracking()
            .Where(grade => grade.ReportId == reportId && grade.Basis == grading.Basis
                && context.GradingEntries.Any(item => item.GradingId == grading.Id && item.ReportId == reportId && item.IsDone))
            .FirstOrDefaultAsync(token),
        cancellation);

    /// <summary>The reports that count and are not in a grading.</summary>
    /// <param name="course">The course.</param>
    /// <param name="grading">The grading.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<IReadOnlyList<CountedReport>> LackingAsync(Course course, Grading grading, CancellationToken cancellation) => database.RunAsync(
        (context, token) => LackingAsync(context, course, grading, token), cancellation);

    /// <inheritdoc cref="LackingAsync(Course, Grading, CancellationToken)"/>
    internal static async Task<IReadOnlyList<CountedReport>> LackingAsync(
        DerividContext context, Course course, Grading grading, CancellationToken cancellation)
    {
        var graded = await context.GradingEntries.Where(item => item.GradingId == grading.Id).Select(item => item.ReportId).ToHashSetAsync(cancellation);
        return [.. (await Reports.CountedAsync(context, course.Id, course.HandOutNumber, grading.CountsBest, cancellation))
            .Where(report => !graded.Contains(report.Id))];
    }

    /// <summary>How many reports of a grading are done.</summary>
    /// <param name="id">The grading.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<int> DoneAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.GradingEntries.CountAsync(item => item.GradingId == id && item.IsDone, token),
        cancellation);

    /// <summary>Takes an unfinished grading that no process has, for <see cref="Lease"/>: of the course whose turn it is the oldest.</summary>
    /// <remarks>Courses take turns, so that many gradings, or a long one, hold up nobody else's.</remarks>
    /// <param name="lastCourseId">The course whose turn it was. Missing: null, nobody's.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The grading. Missing: null, there is none to take.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Grading?> TakeAsync(string? lastCourseId, CancellationToken cancellation) => database.RunAsync(
        async (context, token) =>
        {
            var now = time.GetUtcNow().UtcDateTime;
            var waiting = await context.Gradings.AsNoTracking()
                .Where(row => row.FinishedAtUtc == null && (row.LeasedUntilUtc == null || row.LeasedUntilUtc < now))
                .OrderBy(row => string.Compare(row.CourseId, lastCourseId ?? "") > 0 ? 0 : 1).ThenBy(row => row.CourseId).ThenBy(row => row.Id)
                .FirstOrDefaultAsync(token);
            if (waiting is null)
            {
                return null;
            }

            // Of several processes that saw it, the one whose update comes first has it.
            var until = now + Lease;
            var taken = await context.Gradings
                .Where(row => row.Id == waiting.Id && row.FinishedAtUtc == null && row.LeasedUntilUtc == waiting.LeasedUntilUtc)
                .ExecuteUpdateAsync(row => row.SetProperty(grading => grading.LeasedUntilUtc, until), token);
            return taken == 1 ? waiting : null;
        },
        cancellation);

    /// <summary>The next reports of a grading that are not done.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: by report id; empty when all are done.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<ReportToGrade>> WaitingAsync(Grading grading, int most, CancellationToken cancellation) =>
        database.RunAsync(
            async (context, token) =>
            {
                // In two questions: of tables just filled PostgreSQL knows nothing, and went through all of them for each batch of one.
                var next = await context.GradingEntries.Where(item => item.GradingId == grading.Id && !item.IsDone)
                    .OrderBy(item => item.ReportId).Select(item => item.ReportId).Take(most).ToListAsync(token);
                return await (
                    from report in context.CourseReports.AsNoTracking()
                    where next.Contains(report.Id)
                    join assignment in context.Assignments.AsNoTracking()
                        on new { report.CourseId, report.HandOutNumber, report.StudentKey, report.Number }
                        equals new { assignment.CourseId, assignment.HandOutNumber, assignment.StudentKey, assignment.Number }
                    orderby report.Id
                    select new ReportToGrade(report, assignment.ParentKey)).ToListAsync(token);
            },
            cancellation);

    /// <summary>Stores a batch of grades, marks its reports as done and gives the grading back: all of it or nothing.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="grades">Grades; one already stored for the report and basis stays as it is.</param>
    /// <param name="problems">Reports that could not be graded, and why.</param>
    /// <param name="cancellation">Gives up early, storing nothing.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was stored.</exception>
    public Task StoreAsync(
        Grading grading,
        IReadOnlyCollection<CourseGrade> grades,
        IReadOnlyDictionary<string, string> problems,
        CancellationToken cancellation) => audit.WriteAsync(
        AuditOrigin.Service,
        async (context, token) =>
        {
            await context.InsertAsync(grades.OrderBy(grade => grade.ReportId, StringComparer.Ordinal), StoredRow.Stays, token);
            var done = grades.Select(grade => grade.ReportId).Concat(problems.Keys).ToList();
            var items = await context.GradingEntries
                .Where(item => item.GradingId == grading.Id && done.Contains(item.ReportId)).ToListAsync(token);
            foreach (var item in items)
            {
                (item.IsDone, item.Problem) = (true, problems.GetValueOrDefault(item.ReportId));
            }

            await context.Gradings.Where(row => row.Id == grading.Id)
                .ExecuteUpdateAsync(row => row.SetProperty(given => given.LeasedUntilUtc, (DateTime?)null), token);
            return new Audited<bool>(true);
        },
        cancellation);

    /// <summary>How many gradings are not finished, whoever works on them.</summary>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<int> UnfinishedAsync(CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Gradings.CountAsync(row => row.FinishedAtUtc == null, token), cancellation);

    /// <summary>How many reports of a grading could not be graded.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<int> UngradableAsync(Grading grading, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.GradingEntries.CountAsync(item => item.GradingId == grading.Id && item.Problem != null, token), cancellation);

    /// <summary>Ends a grading all of whose reports are done.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Whether this call did; else another process had.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<bool> FinishAsync(Grading grading, CancellationToken cancellation) => audit.WriteAsync(
        AuditOrigin.Service,
        async (context, token) =>
        {
            var now = time.GetUtcNow().UtcDateTime;
            var finished = await context.Gradings.Where(row => row.Id == grading.Id && row.FinishedAtUtc == null)
                .ExecuteUpdateAsync(row => row.SetProperty(ended => ended.FinishedAtUtc, now), token);
            return finished == 0
                ? new Audited<bool>(false)
                : new Audited<bool>(true, new AuditedAct("grading.finish", Resource(grading), grading.TableVersion));
        },
        cancellation);

    /// <summary>The reports of a grading with their grades, a report of a group once for each of its members.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="studentKey">Those of one student. Missing: null, all.</param>
    /// <param name="beyond">The place to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: by report id, then student.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<GradedReport>> GradesAsync(
        Grading grading, string? studentKey, GradePlace? beyond, int most, CancellationToken cancellation) =>
        GradesAsync(grading, entries => entries, studentKey, beyond, most, cancellation);

    /// <summary>The same of some of its reports, each whole.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="reportIds">The reports.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: by report id, then student.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<GradedReport>> GradesAsync(Grading grading, IReadOnlyCollection<string> reportIds, CancellationToken cancellation) =>
        GradesAsync(grading, entries => entries.Where(item => reportIds.Contains(item.ReportId)), null, null, Reports.All, cancellation);

    /// <summary>The reports of a grading, without what they say.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: any order.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<CountedReport>> ReportsAsync(Grading grading, CancellationToken cancellation) => database.RunAsync(
        (context, token) => (
            from item in context.GradingEntries
            where item.GradingId == grading.Id
            join report in context.CourseReports on item.ReportId equals report.Id
            select new CountedReport(report.Id, report.StudentKey, report.Number, report.Attempt)).ToListAsync(token),
        cancellation);

    private Task<List<GradedReport>> GradesAsync(
        Grading grading, Func<IQueryable<GradingEntry>, IQueryable<GradingEntry>> choose, string? studentKey, GradePlace? beyond, int most, CancellationToken cancellation) =>
        database.RunAsync(
            async (context, token) =>
            {
                var rows = await RowsAsync(context, grading, choose, studentKey, beyond, most, token);
                var (first, last) = (rows.FirstOrDefault()?.Report.Id, rows.LastOrDefault()?.Report.Id);
                var moderations = (await context.Moderations.AsNoTracking().HoldingIn(grading.Id)
                    .Where(row => row.CourseId == grading.CourseId
                        && string.Compare(row.ReportId, first) >= 0 && string.Compare(row.ReportId, last) <= 0)
                    .OrderBy(row => row.Id).ToListAsync(token)).ToLookup(row => row.ReportId);
                return rows.ConvertAll(row => row with
                {
                    Moderations = [.. moderations[row.Report.Id].Where(made => made.StudentKey is null || made.StudentKey == row.Assignment.StudentKey)],
                });
            },
            cancellation);

    private static Task<List<GradedReport>> RowsAsync(
        DerividContext context, Grading grading, Func<IQueryable<GradingEntry>, IQueryable<GradingEntry>> choose, string? studentKey, GradePlace? beyond, int most,
        CancellationToken cancellation) =>
        (
            from item in choose(context.GradingEntries.AsNoTracking())
            where item.GradingId == grading.Id && (beyond == null || string.Compare(item.ReportId, beyond.ReportId) >= 0)
            join report in context.CourseReports.AsNoTracking() on item.ReportId equals report.Id
            join assignment in context.Assignments.AsNoTracking()
                on new { report.CourseId, report.HandOutNumber, Holder = report.StudentKey, report.Number }
                equals new { assignment.CourseId, assignment.HandOutNumber, Holder = assignment.HolderKey, assignment.Number }
            where studentKey == null || assignment.StudentKey == studentKey
            join stored in context.CourseGrades.AsNoTracking().Where(grade => grade.Basis == grading.Basis)
                on report.Id equals stored.ReportId into stored
            from grade in stored.DefaultIfEmpty()
            where beyond == null || string.Compare(item.ReportId, beyond.ReportId) > 0 || string.Compare(assignment.StudentKey, beyond.StudentKey) > 0
            orderby item.ReportId, assignment.StudentKey
            select new GradedReport(report, assignment, item.IsDone ? grade : null, item.Problem))
            .Take(most).ToListAsync(cancellation);

    private static Task<Grading> FindAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Gradings.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    private static string Resource(Grading grading) => $"{Courses.Resource(grading.CourseId)}/gradings/{grading.Id}";
}

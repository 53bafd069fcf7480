using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Teaching;

/// <summary>Keeps reports, drafts and handed-in ones.</summary>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes changes down.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
public sealed class Reports(DerividDatabase database, AuditTrail audit, IdempotentWrites writes)
{
    /// <summary>How many are asked for where a class is read whole. Chosen.</summary>
    public const int All = 50_000;

    private const string DraftAct = "report.draft";
    private const string HandInAct = "report.hand-in";

    /// <summary>What the audit log calls the writing of a report.</summary>
    public static IReadOnlyList<string> Acts { get; } = [DraftAct, HandInAct];

    /// <summary>Keeps a new report as the next attempt at its assignment.</summary>
    /// <param name="report">The report; its attempt is filled in.</param>
    /// <param name="mostAttempts">Attempts the course allows.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="CourseRuleException">The course takes none any more, a draft is open, or no attempt is left.</exception>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<CourseReport>> AddAsync(
        CourseReport report,
        int mostAttempts,
        IdempotencyKey? key,
        AuditOrigin origin,
        CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        async (context, token) =>
        {
            await Courses.HoldOpenAsync(context, report.CourseId, report.HandOutNumber, report.StudentKey, report.HandedInAtUtc ?? report.CreatedAtUtc, origin, token);
            report.Attempt = await NextAttemptAsync(context, report, mostAttempts, token);
            context.CourseReports.Add(report);
            return new Creation<CourseReport>(report, report.Id, ActOf(report));
        },
        FindAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<CourseReport?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, FindAsync, cancellation);

    /// <summary>Changes a draft, or hands it in.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="id">The report.</param>
    /// <param name="revision">The revision the change is meant for.</param>
    /// <param name="bodyJson">What it says now.</param>
    /// <param name="writtenAtUtc">When. Units: UTC.</param>
    /// <param name="isHandedIn">Whether it is handed in; else it stays a draft.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The report as it is now. Missing: null, no such report.</returns>
    /// <exception cref="CourseRuleException">It was changed since or is handed in, or the course takes none any more.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public async Task<CourseReport?> ChangeAsync(
        string courseId,
        string id,
        int revision,
        string bodyJson,
        DateTime writtenAtUtc,
        bool isHandedIn,
        AuditOrigin origin,
        CancellationToken cancellation)
    {
        try
        {
            return await audit.WriteAsync(
                origin,
                async (context, token) =>
                {
                    var report = await context.CourseReports
                        .FirstOrDefaultAsync(row => row.CourseId == courseId && row.Id == id, token);
                    if (report is null)
                    {
                        return new Audited<CourseReport?>(null);
                    }

                    RefuseFinal(report, revision);
                    await Courses.HoldOpenAsync(context, courseId, report.HandOutNumber, report.StudentKey, writtenAtUtc, origin, token);
                    (report.BodyJson, report.HandedInAtUtc) = (bodyJson, isHandedIn ? writtenAtUtc : null);
                    report.Revision++;
                    return new Audited<CourseReport?>(report, ActOf(report));
                },
                cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            throw Stale();
        }
    }

    /// <summary>Finds one.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The report. Missing: null, no such report.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<CourseReport?> FindAsync(string courseId, string id, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.CourseReports.AsNoTracking()
                .FirstOrDefaultAsync(row => row.CourseId == courseId && row.Id == id, token),
            cancellation);

    /// <summary>Finds some.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="ids">Their ids.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: any order.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<CourseReport>> FindAsync(string courseId, IReadOnlyCollection<string> ids, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.CourseReports.AsNoTracking().Where(row => row.CourseId == courseId && ids.Contains(row.Id)).ToListAsync(token),
        cancellation);

    /// <summary>Lists the reports on a hand-out, oldest first.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="handOutNumber">The hand-out.</param>
    /// <param name="studentKey">Those kept under one student, drafts too. Missing: null, those handed in of all.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<CourseReport>> ListAsync(
        string courseId, int handOutNumber, string? studentKey, string? beyond, int most, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.CourseReports.AsNoTracking()
                .Where(row => row.CourseId == courseId && row.HandOutNumber == handOutNumber)
                .Where(row => studentKey == null ? row.HandedInAtUtc != null : row.StudentKey == studentKey)
                .OldestFirst(beyond, most).ToListAsync(token),
            cancellation);

    /// <summary>The reports handed in for each assignment of a hand-out that count, or may: the last, or where the best counts all.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="handOutNumber">The hand-out.</param>
    /// <param name="countsBest">Whether the best counts, which only their grades tell.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: by student, then number, then attempt.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<IReadOnlyList<CountedReport>> CountedAsync(
        string courseId, int handOutNumber, bool countsBest, CancellationToken cancellation) => database.RunAsync(
        (context, token) => CountedAsync(context, courseId, handOutNumber, countsBest, token), cancellation);

    /// <inheritdoc cref="CountedAsync(string, int, bool, CancellationToken)"/>
    internal static async Task<IReadOnlyList<CountedReport>> CountedAsync(
        DerividContext context, string courseId, int handOutNumber, bool countsBest, CancellationToken cancellation)
    {
        var rows = await context.CourseReports.AsNoTracking()
            .Where(row => row.CourseId == courseId && row.HandOutNumber == handOutNumber && row.HandedInAtUtc != null)
            .Select(row => new CountedReport(row.Id, row.StudentKey, row.Number, row.Attempt))
            .ToListAsync(cancellation);
        return [.. rows
            .GroupBy(row => (row.StudentKey, row.Number))
            .SelectMany(group => group.OrderByDescending(row => row.Attempt).Take(countsBest ? int.MaxValue : 1))
            .OrderBy(row => row.StudentKey, StringComparer.Ordinal)
            .ThenBy(row => row.Number)
            .ThenBy(row => row.Attempt)];
    }

    private static Task<CourseReport> FindAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.CourseReports.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    private static async Task<int> NextAttemptAsync(
        DerividContext context, CourseReport report, int mostAttempts, CancellationToken cancellation)
    {
        var before = await context.CourseReports.AsNoTracking()
            .Where(row => row.CourseId == report.CourseId && row.HandOutNumber == report.HandOutNumber
                && row.StudentKey == report.StudentKey && row.Number == report.Number)
            .Select(row => new { row.Id, row.HandedInAtUtc })
            .ToListAsync(cancellation);
        if (before.Find(row => row.HandedInAtUtc is null) is { } draft)
        {
            throw new CourseRuleException(
                CourseRule.DraftOpen, $"The draft {draft.Id} for this unknown is open. Change it, or hand it in.");
        }

        return before.Count < mostAttempts
            ? before.Count + 1
            : throw new CourseRuleException(
                CourseRule.AttemptsUsed,
                $"{before.Count} of {mostAttempts} reports for this unknown are handed in; no attempt is left.");
    }

    private static void RefuseFinal(CourseReport report, int revision)
    {
        if (report.HandedInAtUtc is not null)
        {
            throw new CourseRuleException(
                CourseRule.HandedIn, "The report is handed in and stays as it is. A new one is a new attempt.");
        }

        if (report.Revision != revision)
        {
            throw Stale();
        }
    }

    private static CourseRuleException Stale() =>
        new(CourseRule.Stale, "The draft was changed since it was read. Read it again and decide anew.");

    private static AuditedAct ActOf(CourseReport report) => new(
        report.HandedInAtUtc is null ? DraftAct : HandInAct,
        $"{Courses.Resource(report.CourseId)}/reports/{report.Id}");
}

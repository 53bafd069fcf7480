using System.Globalization;
using Derivid.Core;
using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Teaching;

/// <summary>Keeps courses and their rosters.</summary>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes changes down.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
public sealed class Courses(DerividDatabase database, AuditTrail audit, IdempotentWrites writes)
{
    /// <summary>The address of a course, for the audit log.</summary>
    /// <param name="id">Its id.</param>
    public static string Resource(string id) => "courses/" + id;

    /// <summary>Keeps a new course; whoever asks for it owns it.</summary>
    /// <param name="course">The course.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Created<Course>> AddAsync(
        Course course, IdempotencyKey? key, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        (context, _) =>
        {
            context.Courses.Add(course);
            context.CourseStaff.Add(new CourseStaff { CourseId = course.Id, Actor = origin.Actor, IsOwner = true, IsServing = true });
            return Task.FromResult(new Creation<Course>(
                course, course.Id,
                [new AuditedAct("course.create", Resource(course.Id), course.TableVersion), .. ChoiceOf(course, wasLearnedFrom: false)]));
        },
        MadeAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<Course?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, MadeAsync, cancellation);

    /// <summary>Finds one.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The course. Missing: null, no such course.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Course?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Courses.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id && row.DeletedAtUtc == null, token),
        cancellation);

    /// <summary>Lists courses, oldest first.</summary>
    /// <param name="actor">Those one caller is enrolled in. Missing: null, all.</param>
    /// <param name="asStaff">Whether those whose staff the caller is of are meant too.</param>
    /// <param name="archived">Whether those that are archived are meant, in place of the others.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<Course>> ListAsync(
        string? actor, bool asStaff, bool archived, string? beyond, int most, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.Courses.AsNoTracking()
                .Where(course => course.DeletedAtUtc == null && course.ArchivedAtUtc != null == archived)
                .Where(course => actor == null
                    || context.CourseStudents.Any(student =>
                        student.CourseId == course.Id && student.Actor == actor && student.IsEnrolled)
                    || (asStaff && context.CourseStaff.Any(member => member.CourseId == course.Id && member.Actor == actor && member.IsServing)))
                .OldestFirst(beyond, most).ToListAsync(token),
            cancellation);

    /// <summary>The values that graded classes use, course by course: what one with unknowns handed out has on its shelf, of the kinds it makes.</summary>
    /// <param name="staff">Only courses whose staff has this actor. Missing: null, all.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Keys of parent and kind. Shape: one set a course that isn't archived.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<IReadOnlyList<IReadOnlySet<(string ParentKey, string KindKey)>>> ShelvesInUseAsync(string? staff, CancellationToken cancellation) =>
        database.RunAsync((context, token) => ShelvesInUseAsync(context, staff, token), cancellation);

    /// <summary>The same where something is written that hangs on it, so that no unknowns are handed out in between.</summary>
    internal static async Task<IReadOnlyList<IReadOnlySet<(string ParentKey, string KindKey)>>> ShelvesInUseAsync(
        DerividContext context, string? staff, CancellationToken cancellation)
    {
        var courses = await context.Courses.AsNoTracking()
            .Where(course => course.HandOutNumber > 0 && course.ArchivedAtUtc == null)
            .Where(course => staff == null
                || context.CourseStaff.Any(member => member.CourseId == course.Id && member.Actor == staff && member.IsServing))
            .Select(course => new { course.ShelfKeys, course.KindKeys }).ToListAsync(cancellation);
        return [.. courses.Select(course => course.ShelfKeys.SelectMany(parent => course.KindKeys.Select(kind => (parent, kind))).ToHashSet())];
    }

    /// <summary>The courses that the table may learn from, and since when an unknown is open anywhere.</summary>
    /// <remarks>
    /// A course counts that opted in and whose grades were published before the first of all unknowns that are open now was handed out, in whatever
    /// course and whatever it is: so all that is learned could have been in the table on the day that any of them was handed out, and whoever has one is told
    /// nothing by it that they could not have been told before. What is open is never asked about, only since when: leaving out its compounds would tell
    /// which they are. Where it wasn't taken down when grades were published, a course waits until nothing is open. Made-up courses and those for practice, whose
    /// students were told what they had, teach nothing.
    /// </remarks>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<LearnableCourses> LearnableAsync(CancellationToken cancellation) => database.RunAsync(
        async (context, token) =>
        {
            var openSince = await context.StoredHandOuts
                .Where(handOut => context.Courses.Any(course => course.Id == handOut.CourseId && course.HandOutNumber > 0
                    && course.PublishedGradingId == null && course.ArchivedAtUtc == null && course.DeletedAtUtc == null))
                .MinAsync(handOut => (DateTime?)handOut.HandedOutAtUtc, token);
            var willing = await context.Courses.AsNoTracking()
                .Where(course => course.IsLearnedFrom && course.PublishedGradingId != null && course.DeletedAtUtc == null && !course.IsPractice && !course.IsInvented)
                .ToListAsync(token);
            var learnable = willing.Where(course => openSince is null || course.PublishedAtUtc < openSince)
                .OrderBy(course => course.PublishedAtUtc).ThenBy(course => course.Id, StringComparer.Ordinal).ToList();
            return new LearnableCourses(learnable, willing.Count, openSince);
        },
        cancellation);

    /// <summary>Changes a course. Whether the table may learn from it is taken down as an act of its own.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="revision">The revision the change is meant for.</param>
    /// <param name="change">Changes it, told whether a report is handed in on the hand-out in force; what it throws changes nothing.</param>
    /// <param name="act">What to call it in the audit log.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">It was changed since, isn't theirs, or would open an examination again that has closed.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ChangeAsync(
        string id,
        int revision,
        Action<Course, bool> change,
        string act,
        DateTime now,
        AuditOrigin origin,
        CancellationToken cancellation)
    {
        var choice = new List<AuditedAct>();
        return WriteAsync(id, revision, ChangeAsync, act, origin, cancellation, choice);

        async Task ChangeAsync(DerividContext context, Course course, CancellationToken token)
        {
            var (wasSat, grace, wasLearnedFrom) = (course.IsSat(now), course.GraceMinutes, course.IsLearnedFrom);
            change(course, await context.CourseReports.AnyAsync(
                report => report.CourseId == id && report.HandOutNumber == course.HandOutNumber && report.HandedInAtUtc != null, token));
            if (wasSat && (!course.IsSat(now) || course.GraceMinutes > grace))
            {
                throw new CourseRuleException(CourseRule.Closed, "The examination has closed, and its students may have asked the engine since: it stays an examination, closesAt stays in the past and graceMinutes becomes no longer. Give a course of its own to whoever needs longer.");
            }

            choice.Clear();
            choice.AddRange(ChoiceOf(course, wasLearnedFrom));
        }
    }

    /// <summary>Lets students see the grades of a finished grading.</summary>
    /// <param name="id">The course.</param>
    /// <param name="revision">The revision it is meant for.</param>
    /// <param name="grading">The grading, finished.</param>
    /// <param name="beforeDue">Whether it is meant although reports could still come in time.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">
    /// It was changed since, isn't theirs, is marked anonymously and reports that count are missing in the grading, or reports could still come in time.
    /// </exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> PublishAsync(
        string id, int revision, Grading grading, bool beforeDue, DateTime now, AuditOrigin origin, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return WriteAsync(
            id,
            revision,
            async (context, course, token) =>
            {
                if (course.IsMarkedBlind && await Gradings.LackingAsync(context, course, grading, token) is { Count: > 0 } lacking)
                {
                    throw new CourseRuleException(
                        CourseRule.Lacking,
                        $"The course is marked anonymously, and publishing names everybody: what is published first holds every report that counts. In this grading {Figure.Count(lacking.Count, "report")} that {(lacking.Count == 1 ? "counts is" : "count are")} missing. Grade again and publish that grading.");
                }

                if (!beforeDue && course.PublishedGradingId is null && await AwaitedAsync(context, course, now, token) is { } awaited)
                {
                    throw new CourseRuleException(
                        CourseRule.BeforeDue,
                        $"{awaited} Once grades are published no report is taken any more, and what students have seen can't be taken back. If it is meant, send beforeDue, true.");
                }

                course.PublishedGradingId = grading.Id;
                course.PublishedAtUtc ??= now;
            },
            "course.publish-grades",
            origin,
            cancellation);
    }

    private static IEnumerable<AuditedAct> ChoiceOf(Course course, bool wasLearnedFrom) =>
        course.IsLearnedFrom == wasLearnedFrom ? []
        : [new AuditedAct(course.IsLearnedFrom ? "course.let-learn" : "course.let-learn-no-more", Resource(course.Id), course.TableVersion)];

    /// <summary>Archives a course, or takes it out of the archive.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="revision">The revision it is meant for.</param>
    /// <param name="archivedAtUtc">When, if it is archived. Units: UTC. Missing: null, it is taken out.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">It was changed since, or takes reports.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ArchiveAsync(
        string id, int revision, DateTime? archivedAtUtc, DateTime now, AuditOrigin origin, CancellationToken cancellation) => WriteAsync(
        id,
        revision,
        async (context, course, token) =>
        {
            // An examination ends by closing, never by being put away: as long as reports are taken it keeps its students from the engine.
            if (archivedAtUtc is not null && course.TakesReportsAt(now, null))
            {
                throw new CourseRuleException(CourseRule.Open, "The course takes reports. Close it, or publish grades, and archive it then.");
            }

            var latest = (await LatestDueAsync(context, [id], token)).GetValueOrDefault(id);
            if (archivedAtUtc is not null && course.TakesReportsAt(now, latest))
            {
                var longest = await context.CourseStudents.Where(student => student.CourseId == id && student.IsEnrolled && student.DueAtUtc == latest)
                    .Select(student => student.StudentKey).ToListAsync(token);
                throw new CourseRuleException(
                    CourseRule.Open,
                    FormattableString.Invariant(
                        $"The course has closed, but takes reports until {course.ClosesFor(latest):yyyy-MM-ddTHH:mm:ssZ}: longer has {longest.Min(StringComparer.Ordinal)}{(longest.Count > 1 ? $", with {longest.Count - 1} more" : "")}. Take extensions back, or wait until then, and archive it."));
            }

            course.ArchivedAtUtc = archivedAtUtc is null ? null : course.ArchivedAtUtc ?? archivedAtUtc;
        },
        archivedAtUtc is null ? "course.unarchive" : "course.archive",
        origin,
        cancellation,
        asks: Asks.OwnerAlsoArchived);

    /// <summary>Deletes what an archived course held of its students: unknowns, reports, grades, places; keys it gave are revoked.</summary>
    /// <remarks>
    /// Kept are the audit log, its own description, and whom its roster and its staff ever named: an examination of the same staff knows its
    /// students by that, and deleting a course must not make anybody unknown to one.
    /// </remarks>
    /// <param name="id">Its id.</param>
    /// <param name="revision">The revision it is meant for.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>What was deleted. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">It was changed since, isn't archived, or is being graded.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public async Task<DeletedCourse?> DeleteAsync(string id, int revision, DateTime now, AuditOrigin origin, CancellationToken cancellation)
    {
        var acts = new List<AuditedAct>();
        var deleted = new DeletedCourse(0, 0, 0);
        var course = await WriteAsync(
            id,
            revision,
            async (context, course, token) =>
            {
                if (course.ArchivedAtUtc is null)
                {
                    throw new CourseRuleException(CourseRule.NotArchived, "Only a course that is archived is deleted. Archive it first.");
                }

                if (await context.Gradings.AnyAsync(grading => grading.CourseId == id && grading.FinishedAtUtc == null, token))
                {
                    throw new CourseRuleException(CourseRule.NotArchived, "The course is being graded. Wait until that is finished.");
                }

                var given = await context.CourseActors.Where(row => row.CourseId == id && row.IsGivenHere).Select(row => row.Actor).Distinct().ToListAsync(token);
                var used = await context.CourseStudents
                    .Where(student => student.CourseId != id && student.IsEnrolled && given.Contains(student.Actor!))
                    .Select(student => student.Actor!).ToListAsync(token);
                acts.Clear();
                acts.AddRange(await RevokeAsync(context, [.. given.Except(used, StringComparer.Ordinal)], now, token));
                deleted = await EmptyAsync(context, id, acts.Count, token);

                // Which grading was published stays, though it is gone: the audit log of one marked anonymously goes by that.
                (course.HandOutNumber, course.DeletedAtUtc) = (0, now);
            },
            "course.delete",
            origin,
            cancellation,
            acts,
            Asks.OwnerAlsoArchived);
        return course is null ? null : deleted;
    }

    // What hangs on something before what it hangs on.
    private static async Task<DeletedCourse> EmptyAsync(DerividContext context, string id, int keys, CancellationToken cancellation)
    {
        var gradings = context.Gradings.Where(grading => grading.CourseId == id);
        var reports = context.CourseReports.Where(report => report.CourseId == id);
        await context.Moderations.Where(row => row.CourseId == id).ExecuteDeleteAsync(cancellation);
        await context.GradingEntries.Where(row => gradings.Any(grading => grading.Id == row.GradingId)).ExecuteDeleteAsync(cancellation);
        await context.CourseGrades.Where(row => reports.Any(report => report.Id == row.ReportId)).ExecuteDeleteAsync(cancellation);
        var graded = await gradings.ExecuteDeleteAsync(cancellation);
        var written = await reports.ExecuteDeleteAsync(cancellation);
        await context.Assignments.Where(row => row.CourseId == id).ExecuteDeleteAsync(cancellation);
        await context.StoredHandOuts.Where(row => row.CourseId == id).ExecuteDeleteAsync(cancellation);
        string[] secrets = [ServerSecrets.HandOutsOf(id), ServerSecrets.MarkingOf(id)];
        await context.ServerSecrets.Where(secret => secrets.Contains(secret.Name)).ExecuteDeleteAsync(cancellation);
        foreach (var student in await context.CourseStudents.Where(student => student.CourseId == id).ToListAsync(cancellation))
        {
            (student.Bench, student.Place, student.Neighbours, student.GroupName) = (null, null, [], null);
            (student.Actor, student.DueAtUtc, student.IsEnrolled) = (null, null, false);
        }

        return new DeletedCourse(written, graded, keys);
    }

    /// <summary>The students enrolled.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: in ordinal order of their identifiers.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<IReadOnlyList<CourseStudent>> RosterAsync(string courseId, CancellationToken cancellation)
    {
        var students = await database.RunAsync(
            (context, token) => context.CourseStudents.AsNoTracking()
                .Where(student => student.CourseId == courseId && student.IsEnrolled).ToListAsync(token),
            cancellation);
        return [.. students.OrderBy(student => student.StudentKey, StringComparer.Ordinal)];
    }

    /// <summary>The student of a course that a caller is.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="actor">The caller, as the audit log names them.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>The student. Missing: null, they are none of it.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<CourseStudent?> StudentOfAsync(string courseId, string actor, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.CourseStudents.AsNoTracking().FirstOrDefaultAsync(
                student => student.CourseId == courseId && student.Actor == actor && student.IsEnrolled, token),
            cancellation);

    /// <summary>The staff of a course.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: in ordinal order of who they are.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public async Task<IReadOnlyList<CourseStaff>> StaffAsync(string courseId, CancellationToken cancellation)
    {
        var staff = await database.RunAsync(
            (context, token) => context.CourseStaff.AsNoTracking()
                .Where(member => member.CourseId == courseId && member.IsServing).ToListAsync(token),
            cancellation);
        return [.. staff.OrderBy(member => member.Actor, StringComparer.Ordinal)];
    }

    /// <summary>When reports are due that are kept under a student, where one of those who share them has longer: then all of them have.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="handOutNumber">The hand-out.</param>
    /// <param name="holderKey">The student; see <see cref="Assignment.HolderKey"/>.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Units: UTC. Missing: null, nobody of them has longer.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<DateTime?> DueOfAsync(string courseId, int handOutNumber, string holderKey, CancellationToken cancellation) => database.RunAsync(
        (context, token) => MembersOf(context, courseId, handOutNumber, holderKey).MaxAsync(student => student.DueAtUtc, token),
        cancellation);

    /// <summary>The place of a caller in the staff of a course.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="actor">The caller, as the audit log names them.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Missing: null, they are not of it.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<CourseStaff?> StaffOfAsync(string courseId, string actor, CancellationToken cancellation) =>
        database.RunAsync(
            (context, token) => context.CourseStaff.AsNoTracking().FirstOrDefaultAsync(
                member => member.CourseId == courseId && member.Actor == actor && member.IsServing, token),
            cancellation);

    /// <summary>Puts another staff in place of the one before.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="revision">The course's revision it is meant for.</param>
    /// <param name="staff">The staff. Shape: nobody twice.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">The course was changed since, or one of them is its student.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ReplaceStaffAsync(
        string courseId,
        int revision,
        IReadOnlyCollection<CourseStaff> staff,
        AuditOrigin origin,
        CancellationToken cancellation) => WriteAsync(
        courseId,
        revision,
        async (context, _, token) =>
        {
            var actors = staff.Select(member => member.Actor).ToList();
            await RefuseBothAsync(
                context.CourseStudents.Where(student => student.CourseId == courseId && student.IsEnrolled && actors.Contains(student.Actor!))
                    .Select(student => student.Actor!),
                token);
            var known = await context.CourseStaff.Where(member => member.CourseId == courseId)
                .ToDictionaryAsync(member => member.Actor, StringComparer.Ordinal, token);
            foreach (var row in known.Values)
            {
                row.IsServing = false;
            }

            foreach (var member in staff)
            {
                if (known.TryGetValue(member.Actor, out var row))
                {
                    (row.IsOwner, row.IsServing) = (member.IsOwner, true);
                }
                else
                {
                    context.CourseStaff.Add(member);
                }
            }
        },
        "course.staff",
        origin,
        cancellation,
        asks: Asks.Owner);

    /// <summary>The examination that keeps a caller from the engine.</summary>
    /// <remarks>
    /// It knows whoever its roster ever named. Each course gives keys of its own, so it knows those too that the roster of another
    /// course ever named for an identifier that is enrolled, in upper or lower case, if somebody was ever of the staff of both: an
    /// identifier means the same student there; and where unnamed ones are kept, whoever teaches that course.
    /// </remarks>
    /// <param name="actor">The caller, as the audit log names them.</param>
    /// <param name="keepsUnnamed">Whether one that no roster ever named is kept from it while an examination is open that says when it closes.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Of several the one of the lowest id. Missing: null, none.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<SatExamination?> ExaminationOfAsync(
        string actor, bool keepsUnnamed, DateTime now, CancellationToken cancellation) => database.RunAsync(
        async (context, token) =>
        {
            var examinations = await context.Courses.AsNoTracking()
                .Where(course => course.IsExamination && course.HandOutNumber > 0 && course.PublishedGradingId == null)
                .OrderBy(course => course.Id).ToListAsync(token);
            var latest = examinations.Count == 0 ? [] : await LatestDueAsync(context, examinations.ConvertAll(course => course.Id), token);
            examinations.RemoveAll(course => !course.TakesReportsAt(now, latest.GetValueOrDefault(course.Id)));
            if (examinations.Count == 0)
            {
                return null;
            }

            var named = await context.CourseActors.AsNoTracking().Where(row => row.Actor == actor).ToListAsync(token);
            if (named.Count == 0)
            {
                return keepsUnnamed && examinations.Find(course => course.ClosesAtUtc is not null) is { } open ? Sat(open, false) : null;
            }

            foreach (var course in examinations)
            {
                if (named.Exists(row => row.CourseId == course.Id))
                {
                    return Sat(course, true);
                }

                var elsewhere = named;
                if (!keepsUnnamed || course.ClosesAtUtc is null)
                {
                    var related = await context.CourseStaff.Where(other => context.CourseStaff.Any(own => own.CourseId == course.Id && own.Actor == other.Actor))
                        .Select(other => other.CourseId).ToHashSetAsync(token);
                    elsewhere = named.FindAll(row => related.Contains(row.CourseId));
                }

                if (elsewhere.Count == 0)
                {
                    continue;
                }

                // Compared here: the engines differ in what they take for the same letter.
                var enrolled = await context.CourseStudents.Where(student => student.CourseId == course.Id && student.IsEnrolled)
                    .Select(student => student.StudentKey).ToListAsync(token);
                if (enrolled.Intersect(elsewhere.Select(row => row.StudentKey), StringComparer.OrdinalIgnoreCase).Any())
                {
                    return Sat(course, true);
                }
            }

            return null;

            SatExamination Sat(Course course, bool isNamed) => new(course, isNamed, course.ClosesFor(latest.GetValueOrDefault(course.Id)));
        },
        cancellation);

    /// <summary>Gives students longer, and takes it from all others.</summary>
    /// <param name="courseId">The course.</param>
    /// <param name="revision">The course's revision it is meant for.</param>
    /// <param name="dueAtUtc">When their reports are due, by identifier. Shape: of students enrolled. Units: UTC.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">The course was changed since, or is an examination that has closed.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ReplaceExtensionsAsync(
        string courseId,
        int revision,
        IReadOnlyDictionary<string, DateTime> dueAtUtc,
        DateTime now,
        AuditOrigin origin,
        CancellationToken cancellation) => WriteAsync(
        courseId,
        revision,
        async (context, course, token) =>
        {
            if (course.IsSat(now))
            {
                throw new CourseRuleException(
                    CourseRule.Closed,
                    "The examination has closed, and its students may have asked the engine since; give extensions before it closes, or a course of its own to whoever needs longer.");
            }

            foreach (var student in await context.CourseStudents.Where(student => student.CourseId == courseId).ToListAsync(token))
            {
                student.DueAtUtc = dueAtUtc.TryGetValue(student.StudentKey, out var due) ? due : null;
            }
        },
        "course.extensions",
        origin,
        cancellation);

    /// <summary>Puts a roster in place of the one before; students who are not in it are no longer enrolled.</summary>
    /// <remarks>
    /// A student who is given no actor stays who they are, unless another student is given theirs: a roster put again without
    /// actors would else cut everybody from the key that they got since. Of who falls out or is replaced the key that was given here
    /// is revoked, unless they belong to another course with it; a key from elsewhere is none of the course's. An extension goes with
    /// whoever has it, also where their identifier is corrected; who falls out loses it, and has none when they are put back.
    /// </remarks>
    /// <param name="courseId">The course.</param>
    /// <param name="revision">The course's revision the roster is meant for.</param>
    /// <param name="students">The students. Shape: no identifier and no actor twice.</param>
    /// <param name="dropsStudents">Whether students who have an actor or unknowns may fall out, or become somebody else.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">
    /// The course was changed since, one of them is of its staff, or somebody falls out who may not.
    /// </exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> ReplaceRosterAsync(
        string courseId,
        int revision,
        IReadOnlyCollection<CourseStudent> students,
        bool dropsStudents,
        DateTime now,
        AuditOrigin origin,
        CancellationToken cancellation)
    {
        var acts = new List<AuditedAct>();
        return WriteAsync(
            courseId,
            revision,
            async (context, course, token) =>
            {
                acts.Clear();
                acts.AddRange(await ReplaceAsync(context, course, students, dropsStudents, now, token));
            },
            "course.roster",
            origin,
            cancellation,
            acts);
    }

    /// <summary>Gives students of a course keys: from then on each is who they are here, in place of whoever they were before.</summary>
    /// <remarks>All that were given here to a student are revoked when they get another: they are lost, whoever else names them, save who is another student here by now.</remarks>
    /// <param name="courseId">The course.</param>
    /// <param name="revision">The course's revision, whose roster the keys are for.</param>
    /// <param name="given">The keys. Shape: of students enrolled, nobody twice.</param>
    /// <param name="now">When. Units: UTC.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <returns>The course as it is now. Missing: null, no such course.</returns>
    /// <exception cref="CourseRuleException">The course was changed since.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Course?> GiveKeysAsync(
        string courseId,
        int revision,
        IReadOnlyCollection<GivenKey> given,
        DateTime now,
        AuditOrigin origin,
        CancellationToken cancellation)
    {
        var acts = new List<AuditedAct>();
        return WriteAsync(
            courseId,
            revision,
            async (context, _, token) =>
            {
                acts.Clear();
                acts.AddRange(given.SelectMany(one => (AuditedAct[])[ApiKeys.Created(one.Key), new("course.key", $"{Resource(courseId)}/students/{one.StudentKey}")]));
                var students = await context.CourseStudents.Where(student => student.CourseId == courseId && student.IsEnrolled)
                    .ToDictionaryAsync(student => student.StudentKey, StringComparer.Ordinal, token);
                var lost = given.Select(one => one.StudentKey).ToHashSet(StringComparer.Ordinal);
                var ever = await context.CourseActors.Where(row => row.CourseId == courseId && lost.Contains(row.StudentKey)).Select(row => row.Actor).ToListAsync(token);
                var theirs = ever.Concat(lost.Select(student => students[student].Actor).OfType<string>())
                    .Except(students.Values.Where(student => !lost.Contains(student.StudentKey)).Select(student => student.Actor).OfType<string>(), StringComparer.Ordinal);
                acts.AddRange(await RevokeAsync(context, await GivenHereAsync(context, courseId, theirs, token), now, token));
                foreach (var one in given)
                {
                    context.ApiKeys.Add(one.Key);
                    students[one.StudentKey].Actor = one.Actor;
                    context.CourseActors.Add(new CourseActor { CourseId = courseId, StudentKey = one.StudentKey, Actor = one.Actor, IsGivenHere = true });
                }
            },
            "course.keys",
            origin,
            cancellation,
            acts);
    }

    private static async Task<List<AuditedAct>> ReplaceAsync(
        DerividContext context, Course course, IReadOnlyCollection<CourseStudent> students, bool dropsStudents, DateTime now, CancellationToken cancellation)
    {
        var courseId = course.Id;
        var given = students.Select(student => student.Actor).OfType<string>().ToHashSet(StringComparer.Ordinal);
        await RefuseBothAsync(
            context.CourseStaff.Where(member => member.CourseId == courseId && member.IsServing && given.Contains(member.Actor))
                .Select(member => member.Actor),
            cancellation);
        await RefuseStaffKeysAsync(context, given, cancellation);
        var known = await context.CourseStudents.Where(student => student.CourseId == courseId)
            .ToDictionaryAsync(student => student.StudentKey, StringComparer.Ordinal, cancellation);
        var actors = students.ToDictionary(
            student => student.StudentKey,
            student => student.Actor
                ?? (known.TryGetValue(student.StudentKey, out var row) && row.Actor is { } actor && !given.Contains(actor) ? actor : null),
            StringComparer.Ordinal);
        var former = known.Values.Select(student => student.Actor).OfType<string>().Except(actors.Values.OfType<string>(), StringComparer.Ordinal);
        var ending = await GivenHereAsync(context, courseId, former, cancellation);
        var used = await context.CourseStudents
            .Where(student => student.CourseId != courseId && student.IsEnrolled && ending.Contains(student.Actor!))
            .Select(student => student.Actor!).ToListAsync(cancellation);
        ending.RemoveAll(used.Contains);
        if (course is { IsMarkedBlind: true, HandOutNumber: > 0 })
        {
            await RefuseOthersAsync(context, courseId, known, actors, cancellation);
        }

        if (!dropsStudents)
        {
            await RefuseDroppedAsync(context, course, known.Values, actors, ending, cancellation);
        }

        var acts = await RevokeAsync(context, ending, now, cancellation);

        // Somebody's, whatever they are called; of a student who had no actor, their identifier's.
        var enrolled = known.Values.Where(student => student.IsEnrolled).ToList();
        var dueByActor = enrolled.Where(student => student.Actor is not null)
            .ToDictionary(student => student.Actor!, student => student.DueAtUtc, StringComparer.Ordinal);
        var dueByKey = enrolled.Where(student => student.Actor is null)
            .ToDictionary(student => student.StudentKey, student => student.DueAtUtc, StringComparer.Ordinal);

        // An actor may move from one student to another, and must not belong to both in between.
        foreach (var student in known.Values)
        {
            (student.IsEnrolled, student.Actor, student.DueAtUtc) = (false, null, null);
        }

        await context.SaveChangesAsync(cancellation);
        var named = await context.CourseActors.Where(row => row.CourseId == courseId)
            .Select(row => new { row.StudentKey, row.Actor }).ToListAsync(cancellation);
        context.CourseActors.AddRange(actors.Where(pair => pair.Value is not null)
            .Select(pair => new { StudentKey = pair.Key, Actor = pair.Value! }).Except(named)
            .Select(row => new CourseActor { CourseId = courseId, StudentKey = row.StudentKey, Actor = row.Actor, IsGivenHere = false }));
        foreach (var student in students)
        {
            var due = actors[student.StudentKey] is { } actor && dueByActor.TryGetValue(actor, out var own)
                ? own : dueByKey.GetValueOrDefault(student.StudentKey);
            if (known.TryGetValue(student.StudentKey, out var row))
            {
                (row.Bench, row.Place, row.Neighbours, row.GroupName) = (student.Bench, student.Place, student.Neighbours, student.GroupName);
                (row.Actor, row.IsEnrolled, row.DueAtUtc) = (actors[student.StudentKey], true, due);
            }
            else
            {
                student.DueAtUtc = due;
                context.CourseStudents.Add(student);
            }
        }

        return acts;
    }

    private static Task<List<string>> GivenHereAsync(
        DerividContext context, string courseId, IEnumerable<string> actors, CancellationToken cancellation)
    {
        var asked = actors.ToList();
        return context.CourseActors.Where(row => row.CourseId == courseId && row.IsGivenHere && asked.Contains(row.Actor))
            .Select(row => row.Actor).Distinct().ToListAsync(cancellation);
    }

    private static async Task<List<AuditedAct>> RevokeAsync(
        DerividContext context, List<string> actors, DateTime now, CancellationToken cancellation)
    {
        var ids = actors.ConvertAll(actor => ActorName.KeyIdOf(actor)!);
        var revoked = await context.ApiKeys.Where(key => ids.Contains(key.Id) && key.RevokedAtUtc == null).ToListAsync(cancellation);
        foreach (var key in revoked)
        {
            key.RevokedAtUtc = now;
        }

        return [.. revoked.Select(key => ApiKeys.Revoked(key.Id))];
    }

    // Whoever else's staff they are, an examination would keep them from the engine, and they were never asked.
    private static async Task RefuseStaffKeysAsync(DerividContext context, IEnumerable<string> actors, CancellationToken cancellation)
    {
        var ids = actors.Select(ActorName.KeyIdOf).OfType<string>().ToList();
        var staff = await context.ApiKeys.Where(key => ids.Contains(key.Id) && key.Role != Role.Student)
            .OrderBy(key => key.Id).Select(key => key.Id).ToListAsync(cancellation);
        if (staff.Count > 0)
        {
            throw new CourseRuleException(
                CourseRule.StaffAndStudent,
                $"A roster names students' keys; these are graders', instructors' or administrators': {string.Join(", ", staff.Select(ActorName.OfKey))}.");
        }
    }

    // Whoever becomes a student reads what they wrote under their name. Of one who fell out it isn't kept who they were last, so they come back
    // without an actor. One who never had any wrote nothing yet.
    private static async Task RefuseOthersAsync(
        DerividContext context, string courseId, Dictionary<string, CourseStudent> known, Dictionary<string, string?> actors, CancellationToken cancellation)
    {
        var named = await context.CourseActors.Where(row => row.CourseId == courseId)
            .Select(row => new { row.StudentKey, row.Actor }).ToListAsync(cancellation);
        var (students, callers) = (named.Select(row => row.StudentKey).ToHashSet(StringComparer.Ordinal), named.ToLookup(row => row.Actor, row => row.StudentKey, StringComparer.Ordinal));
        var others = actors
            .Where(pair => pair.Value != known.GetValueOrDefault(pair.Key)?.Actor
                && (students.Contains(pair.Key) || (pair.Value is { } actor && callers[actor].Any(student => student != pair.Key))))
            .Select(pair => pair.Key).Order(StringComparer.Ordinal).ToList();
        if (others.Count > 0)
        {
            throw new CourseRuleException(
                CourseRule.MarkedBlind,
                $"The course is marked anonymously and unknowns are handed out: until grades are published no roster says that a student is somebody else now, who would read their reports under their name, or that another is who a student ever was. It would of {string.Join(", ", others)}. Leave the actor out, and give them a new key of the course: that revokes those it gave them before, and stands in the audit log.");
        }
    }

    // Their unknowns and reports would be nobody's any more, or somebody else's to read, and their key would open nothing.
    private static async Task RefuseDroppedAsync(
        DerividContext context, Course course, IEnumerable<CourseStudent> known, Dictionary<string, string?> actors, List<string> ending, CancellationToken cancellation)
    {
        var served = await context.Assignments.Where(unknown => unknown.CourseId == course.Id && unknown.HandOutNumber == course.HandOutNumber)
            .Select(unknown => new { unknown.StudentKey, unknown.HolderKey }).Distinct()
            .ToDictionaryAsync(unknown => unknown.StudentKey, unknown => unknown.HolderKey, StringComparer.Ordinal, cancellation);
        var dropped = known
            .Where(student => student.IsEnrolled
                && (actors.TryGetValue(student.StudentKey, out var actor)
                    ? student.Actor is not null && student.Actor != actor
                    : student.Actor is not null || served.ContainsKey(student.StudentKey)))
            .OrderBy(student => student.StudentKey, StringComparer.Ordinal).ToList();
        if (dropped.Count == 0)
        {
            return;
        }

        var reports = await context.CourseReports.Where(report => report.CourseId == course.Id && report.HandedInAtUtc != null)
            .GroupBy(report => report.StudentKey).Select(group => new { group.Key, Count = group.Count() })
            .ToDictionaryAsync(group => group.Key, group => group.Count, StringComparer.Ordinal, cancellation);
        throw new CourseRuleException(
            CourseRule.DropsStudents,
            $"{Figure.Count(dropped.Count, "student")} with a key, a sign-in or unknowns would fall out, or become somebody else; the errors say who. Nothing is changed. If it is meant, send it again with ?dropsStudents=true.",
            [.. dropped.Select(Consequence)]);

        string Consequence(CourseStudent student)
        {
            var own = served.ContainsKey(student.StudentKey) ? $" Unknowns are handed out to them, {HandedIn(student)}." : "";
            var key = student.Actor is { } former && ending.Contains(former) ? " The key is good no longer." : "";
            return actors.TryGetValue(student.StudentKey, out var actor)
                ? $"{actor ?? "Nobody"} takes the place of {student.Actor} as {student.StudentKey}.{own}{key}"
                : $"{student.StudentKey} falls out, and sees and hands in nothing here any more.{own}{key}";
        }

        // How many somebody has handed in is as good as a name where reports are marked without one.
        string HandedIn(CourseStudent student) =>
            course.IsMarkedBlind ? "with reports or without"
            : served.TryGetValue(student.StudentKey, out var holder) && reports.TryGetValue(holder, out var count)
                ? $"with {Figure.Count(count, "report")} handed in{(course.PublishedGradingId is null ? "" : "; grades are published")}"
                : "with no report handed in";
    }

    // Whoever sat a course of whose staff they are would read their own answers.
    private static async Task RefuseBothAsync(IQueryable<string> both, CancellationToken cancellation)
    {
        if (await both.OrderBy(actor => actor).ToListAsync(cancellation) is { Count: > 0 } found)
        {
            throw new CourseRuleException(
                CourseRule.StaffAndStudent,
                $"Nobody is of the staff of a course and its student; these would be: {string.Join(", ", found)}.");
        }
    }

    private Task<Course?> WriteAsync(
        string id,
        int revision,
        Func<DerividContext, Course, CancellationToken, Task> change,
        string act,
        AuditOrigin origin,
        CancellationToken cancellation,
        IReadOnlyList<AuditedAct>? further = null,
        Asks asks = Asks.Staff) => audit.WriteAsync(
        origin,
        async (context, token) =>
        {
            // Held first and asked then: whatever is judged here is still so when this is written.
            await HoldAsync(context, id, token);
            if (await context.Courses.FirstOrDefaultAsync(row => row.Id == id, token) is not { } course)
            {
                return new Audited<Course?>(null);
            }

            await RefuseStrangersAsync(context, id, origin, asks != Asks.Staff, token);
            RefuseStale(course, revision);
            if (asks != Asks.OwnerAlsoArchived)
            {
                RefuseArchived(course);
            }

            course.Revision++;
            await change(context, course, token);
            return new Audited<Course?>(course, [new AuditedAct(act, Resource(id), course.TableVersion), .. further ?? []]);
        },
        cancellation);

    // Of each course when the last of its students has to be done, among those who have longer.
    private static async Task<Dictionary<string, DateTime?>> LatestDueAsync(
        DerividContext context, List<string> courseIds, CancellationToken cancellation) =>
        (await context.CourseStudents
            .Where(student => courseIds.Contains(student.CourseId) && student.IsEnrolled && student.DueAtUtc != null)
            .Select(student => new { student.CourseId, student.DueAtUtc }).ToListAsync(cancellation))
        .GroupBy(student => student.CourseId).ToDictionary(group => group.Key, group => group.Max(student => student.DueAtUtc));

    // Until when reports can come in time, and how many unknowns have none. Never whose, nor whether who has longer is among them: a course marked
    // anonymously tells neither. Missing: null, none can, or every attempt at each unknown is used.
    private static async Task<string?> AwaitedAsync(DerividContext context, Course course, DateTime now, CancellationToken cancellation)
    {
        var longest = (await LatestDueAsync(context, [course.Id], cancellation)).GetValueOrDefault(course.Id);
        var until = (longest > course.DueAtUtc ? longest : course.DueAtUtc)?.AddMinutes(course.GraceMinutes);
        if (until is null || until <= now)
        {
            return null;
        }

        var unknowns = await context.Assignments
            .Where(unknown => unknown.CourseId == course.Id && unknown.HandOutNumber == course.HandOutNumber
                && context.CourseStudents.Any(student => student.CourseId == course.Id && student.StudentKey == unknown.StudentKey && student.IsEnrolled))
            .Select(unknown => new { StudentKey = unknown.HolderKey, unknown.Number }).Distinct().ToListAsync(cancellation);
        var attempts = (await context.CourseReports
            .Where(report => report.CourseId == course.Id && report.HandOutNumber == course.HandOutNumber && report.HandedInAtUtc != null)
            .Select(report => new { report.StudentKey, report.Number }).ToListAsync(cancellation)).CountBy(report => report).ToDictionary();
        var without = unknowns.Count(unknown => !attempts.ContainsKey(unknown));
        return unknowns.All(unknown => attempts.GetValueOrDefault(unknown) >= course.MostAttempts) ? null
            : string.Create(
                CultureInfo.InvariantCulture,
                $"Reports can be handed in in time until {until:yyyy-MM-ddTHH:mm:ssZ}, and {without} of {Figure.Count(unknowns.Count, "unknown")} {(without == 1 ? "has" : "have")} none yet.");
    }

    // Those still enrolled of whom the unknowns of a hand-out are that are kept under a student.
    private static IQueryable<CourseStudent> MembersOf(DerividContext context, string courseId, int handOutNumber, string holderKey) =>
        context.CourseStudents.Where(student => student.CourseId == courseId && student.IsEnrolled && context.Assignments.Any(row =>
            row.CourseId == courseId && row.HandOutNumber == handOutNumber && row.HolderKey == holderKey && row.StudentKey == student.StudentKey));

    /// <summary>Keeps everybody else from changing a course until this transaction ends, if it takes a student's reports on a hand-out.</summary>
    /// <remarks>
    /// What was judged before the transaction may be over by now: grades published, the hour past, unknowns handed out anew, whoever writes
    /// fallen out of roster or staff.
    /// </remarks>
    /// <exception cref="CourseRuleException">It takes none on this hand-out any more, or none of whoever writes.</exception>
    internal static async Task HoldOpenAsync(
        DerividContext context, string courseId, int handOutNumber, string holderKey, DateTime now, AuditOrigin origin, CancellationToken cancellation)
    {
        // Held first and asked then: PostgreSQL asks a row again that it had to wait for, but not the rows of students beside it.
        await HoldAsync(context, courseId, cancellation);
        if (!await MembersOf(context, courseId, handOutNumber, holderKey).AnyAsync(student => student.Actor == origin.Actor, cancellation))
        {
            await RefuseStrangersAsync(context, courseId, origin, ownersOnly: false, cancellation);
        }

        var grace = await context.Courses.Where(row => row.Id == courseId).Select(row => row.GraceMinutes).FirstOrDefaultAsync(cancellation);
        var past = now.AddMinutes(-grace);
        var haveLonger = MembersOf(context, courseId, handOutNumber, holderKey).Where(student => student.DueAtUtc > past);
        if (!await context.Courses.AnyAsync(
            row => row.Id == courseId && row.HandOutNumber == handOutNumber && row.PublishedGradingId == null
                && (row.ClosesAtUtc == null || row.ClosesAtUtc > now || haveLonger.Any()),
            cancellation))
        {
            throw new CourseRuleException(
                CourseRule.Closed,
                "The course takes no report on this unknown any more: unknowns were handed out anew, grades published, or the time is over.");
        }
    }

    /// <summary>Keeps everybody else from changing a course until this transaction ends, if whoever writes is of its staff and it isn't archived.</summary>
    /// <remarks>When the request came it was so; they may be removed by now, or the course put away, and what is added to it then would be left behind.</remarks>
    /// <returns>The course as it is and stays until then.</returns>
    /// <exception cref="CourseRuleException">It isn't theirs, is archived, or was and is deleted.</exception>
    internal static async Task<Course> HoldInUseAsync(DerividContext context, string courseId, AuditOrigin origin, CancellationToken cancellation)
    {
        await HoldAsync(context, courseId, cancellation);
        await RefuseStrangersAsync(context, courseId, origin, ownersOnly: false, cancellation);
        var course = await context.Courses.FirstAsync(row => row.Id == courseId, cancellation);
        RefuseArchived(course);
        return course;
    }

    // Of the same words as where a course is looked for and isn't theirs.
    private static async Task RefuseStrangersAsync(
        DerividContext context, string courseId, AuditOrigin origin, bool ownersOnly, CancellationToken cancellation)
    {
        if (!origin.IsAdministrator && !await context.CourseStaff.AnyAsync(
            member => member.CourseId == courseId && member.Actor == origin.Actor && member.IsServing && (member.IsOwner || !ownersOnly), cancellation))
        {
            throw new CourseRuleException(CourseRule.NotYours, $"No course '{courseId}' of yours is here.");
        }
    }

    private static void RefuseArchived(Course course)
    {
        if (course.ArchivedAtUtc is not null)
        {
            throw new CourseRuleException(CourseRule.Archived, "The course is archived, or was and is deleted, and nothing of it was changed. Its owners can take it out of the archive.");
        }
    }

    /// <summary>Keeps everybody else from changing a course until this transaction ends.</summary>
    internal static Task HoldAsync(DerividContext context, string courseId, CancellationToken cancellation) =>
        // Writing a row's own revision locks it on both engines, whatever their isolation.
        context.Courses.Where(row => row.Id == courseId)
            .ExecuteUpdateAsync(row => row.SetProperty(course => course.Revision, course => course.Revision), cancellation);

    /// <summary>What is asked of whoever writes to a course, and of the course.</summary>
    private enum Asks
    {
        /// <summary>They are of its staff, and it isn't archived.</summary>
        Staff,

        /// <summary>They own it, and it isn't archived.</summary>
        Owner,

        /// <summary>They own it, archived or not.</summary>
        OwnerAlsoArchived,
    }

    private static Task<Course> MadeAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Courses.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    internal static void RefuseStale(Course course, int revision)
    {
        // A deleted one was changed since it was read, whatever revision is named, and is gone when it is read again.
        if (course.Revision != revision || course.DeletedAtUtc is not null)
        {
            throw Stale();
        }
    }

    internal static CourseRuleException Stale() =>
        new(CourseRule.Stale, "The course was changed since it was read. Read it again and decide anew.");
}

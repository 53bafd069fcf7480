using Derivid.Core.Teaching;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Idempotency;
using Derivid.Store.Teaching;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;
using static Derivid.Store.Tests.TeachingSample;

namespace Derivid.Store.Tests;

public abstract class CoursesTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task CourseIsFoundAsItWasStoredAndTakenDown()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var course = Course("c");

        var created = await store.Courses.AddAsync(course, null, Instructor, Cancellation);

        Assert.True(created.IsNew);
        Assert.Equivalent(course, await store.Courses.FindAsync("c", Cancellation), strict: true);
        Assert.Null(await store.Courses.FindAsync("d", Cancellation));
        var act = Assert.Single(await store.Audit.ReadAsync(new(Action: "course.create"), null, false, 10, Cancellation));
        Assert.Equal(("courses/c", "key:instructor"), (act.Resource, act.Actor));
    }

    [Fact]
    public async Task SameMarkCreatesOnceHoweverOftenAndConcurrentlyItIsSent()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        var created = await Task.WhenAll(Enumerable.Range(0, 6).Select(place => Task.Run(
            () => store.Courses.AddAsync(Course($"c{place}"), Mark("monday"), Instructor, Cancellation), Cancellation)));

        Assert.Single(created, one => one.IsNew);
        Assert.Single(created.Select(one => one.Value.Id).Distinct());
        Assert.Single(await store.Courses.ListAsync(null, asStaff: false, archived: false, null, 10, Cancellation));
        await Assert.ThrowsAsync<IdempotencyKeyReusedException>(
            () => store.Courses.AddAsync(Course("x"), Mark("monday", "another"), Instructor, Cancellation));
        await store.Courses.AddAsync(Course("y"), new IdempotencyKey("key:other", "monday", "another"), Instructor, Cancellation);
        Assert.Equal(2, (await store.Courses.ListAsync(null, asStaff: false, archived: false, null, 10, Cancellation)).Count);
    }

    // Whoever was of the staff when they began may be removed by the time they write.
    [Fact]
    public async Task WhoeverIsNotOfTheStaffWritesNothingToACourse()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 2, withReports: false, Cancellation);
        await store.Reports.AddAsync(Report(0, handedIn: false), 2, null, Instructor, Cancellation);
        await store.Gradings.AddAsync(await CourseAsync(), Grading("g", 0), [], null, Instructor, Cancellation);
        await store.Courses.ReplaceStaffAsync(
            "c", (await CourseAsync()).Revision, [Staff("key:instructor", isOwner: true), Staff("key:removed", isOwner: true), Staff("key:colleague")], Instructor, Cancellation);
        await store.Courses.ReplaceStaffAsync("c", (await CourseAsync()).Revision, [Staff("key:instructor", isOwner: true), Staff("key:colleague")], Instructor, Cancellation);
        var (course, now) = (await CourseAsync(), StoreUnderTest.Now);
        Func<AuditOrigin, Task>[] owners =
        [
            by => store.Courses.ArchiveAsync("c", course.Revision, now, now, by, Cancellation),
            by => store.Courses.DeleteAsync("c", course.Revision, now, by, Cancellation),
            by => store.Courses.ReplaceStaffAsync("c", course.Revision, [Staff(by.Actor, isOwner: true)], by, Cancellation),
        ];
        Func<AuditOrigin, Task>[] writes =
        [
            by => store.Courses.ChangeAsync("c", course.Revision, (_, _) => { }, "course.change", now, by, Cancellation),
            by => store.Courses.PublishAsync("c", course.Revision, Grading("g", 0), false, now, by, Cancellation),
            by => store.Courses.ReplaceExtensionsAsync("c", course.Revision, new Dictionary<string, DateTime>(), now, by, Cancellation),
            by => store.Courses.ReplaceRosterAsync("c", course.Revision, [], dropsStudents: true, now, by, Cancellation),
            by => store.Courses.GiveKeysAsync("c", course.Revision, [], now, by, Cancellation),
            by => store.HandOuts.AddAsync(course, HandOut(2), [], null, by, Cancellation),
            by => store.Gradings.AddAsync(course, Grading("h", 0), [], null, by, Cancellation),
            by => store.Get<Moderations>().AddAsync(new StoredModeration("m", "c", "r0000", "g", null, null, "why", null, by.Actor, now), null, null, by, Cancellation),
            by => store.Reports.AddAsync(Report(1), 2, null, by, Cancellation),
            by => store.Reports.ChangeAsync("c", "r0000", 1, "{}", now, true, by, Cancellation),
        ];

        foreach (var write in owners.Concat(writes))
        {
            Assert.Equal(CourseRule.NotYours, (await RefusedAsync(() => write(Instructor with { Actor = "key:removed" }))).Rule);
        }

        foreach (var write in owners)
        {
            Assert.Equal(CourseRule.NotYours, (await RefusedAsync(() => write(Instructor with { Actor = "key:colleague" }))).Rule);
        }

        Assert.Equal(course.Revision, (await CourseAsync()).Revision);
        Assert.NotNull(await store.Courses.PublishAsync("c", course.Revision, Grading("g", 0), false, now, new AuditOrigin("key:admin", null, null) { IsAdministrator = true }, Cancellation));

        async Task<Course> CourseAsync() => (await store.Courses.FindAsync("c", Cancellation))!;
    }

    [Fact]
    public async Task StaleChangeIsRefusedAndOnlyOneOfTwoAtOnceWins()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);

        var outcomes = await Task.WhenAll(Enumerable.Range(0, 4).Select(place => Task.Run(
            async () =>
            {
                try
                {
                    await store.Courses.ChangeAsync(
                        "c", 1, (course, _) => course.Name = $"Name {place}", "course.change", StoreUnderTest.Now, Instructor, Cancellation);
                    return true;
                }
                catch (CourseRuleException fault) when (fault.Rule == CourseRule.Stale)
                {
                    return false;
                }
            },
            Cancellation)));

        Assert.Single(outcomes, won => won);
        Assert.Equal(2, (await store.Courses.FindAsync("c", Cancellation))!.Revision);
        Assert.Null(await store.Courses.ChangeAsync("d", 1, (_, _) => { }, "course.change", StoreUnderTest.Now, Instructor, Cancellation));
    }

    [Fact]
    public async Task RosterIsReplacedWholeAndThoseWhoLeaveAreKeptOut()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await store.Courses.ReplaceRosterAsync("c", 1, [Student("b", "key:1"), Student("a", "key:2")], dropsStudents: true, StoreUnderTest.Now, Instructor, Cancellation);

        // The actor of one student moves to another in the same change; whose it was keeps none, who has another keeps that.
        await store.Courses.ReplaceRosterAsync("c", 2, [Student("a", "key:1"), Student("d")], dropsStudents: true, StoreUnderTest.Now, Instructor, Cancellation);

        Assert.Equal(["a", "d"], (await store.Courses.RosterAsync("c", Cancellation)).Select(student => student.StudentKey));
        Assert.Equal("a", (await store.Courses.StudentOfAsync("c", "key:1", Cancellation))!.StudentKey);
        Assert.Null(await store.Courses.StudentOfAsync("c", "key:2", Cancellation));
        Assert.Single(await store.Courses.ListAsync("key:1", asStaff: false, archived: false, null, 10, Cancellation));
        Assert.Empty(await store.Courses.ListAsync("key:2", asStaff: true, archived: false, null, 10, Cancellation));
        await using var context = store.NewContext();
        Assert.Equal(3, await context.CourseStudents.CountAsync(Cancellation));
    }

    private static readonly string[] Leaving = ["b", "d", "e"];

    // A file of names put again must not cut anybody from the key that they were given since, nor leave that key nobody's: an
    // examination would be kept from the new key alone. A key from elsewhere is not the course's to end.
    [Fact]
    public async Task WhoIsGivenNoActorStaysWhoTheyWereAndKeysOfThoseWhoLeaveAreRevoked()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(Key("9"), null, Instructor, Cancellation);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await store.Courses.AddAsync(Course("other"), null, Instructor, Cancellation);
        await PutAsync("c", [Student("a"), Student("b"), Student("d", "key:9"), Student("e")], dropsStudents: false);
        await GiveAsync("a", "1");
        await GiveAsync("b", "2");
        await GiveAsync("e", "4");
        await PutAsync("other", [Student("e", "key:4", "other")], dropsStudents: false);

        await PutAsync("c", [Student("a"), Student("b"), Student("d"), Student("e")], dropsStudents: false);
        Assert.Equal(["key:1", "key:2", "key:9", "key:4"], (await store.Courses.RosterAsync("c", Cancellation)).Select(student => student.Actor));

        var refused = await Assert.ThrowsAsync<CourseRuleException>(() => PutAsync("c", [Student("a", "key:5")], dropsStudents: false));
        Assert.Equal(CourseRule.DropsStudents, refused.Rule);
        Assert.Equal(
            [
                "key:5 takes the place of key:1 as a. The key is good no longer.",
                .. Leaving.Select(left => $"{left} falls out, and sees and hands in nothing here any more.{(left == "b" ? " The key is good no longer." : "")}"),
            ],
            refused.Each);
        Assert.Empty(await RevokedAsync());

        // Neither one from elsewhere nor another course's.
        await PutAsync("c", [Student("a", "key:5")], dropsStudents: true);
        Assert.Equal(["1", "2"], await RevokedAsync());

        // One that is replaced is lost, whoever else names it.
        await PutAsync("c", [Student("a"), Student("e", "key:4")], dropsStudents: true);
        await GiveAsync("e", "6");
        Assert.Equal(["1", "2", "4"], await RevokedAsync());

        // So is one that a student had before they fell out and came back; not one that is another's here by now.
        await PutAsync("c", [Student("a"), Student("e"), Student("f", "key:6")], dropsStudents: true);
        await GiveAsync("e", "7");
        Assert.Equal(["1", "2", "4"], await RevokedAsync());
        await PutAsync("other", [Student("f", "key:6", "other")], dropsStudents: true);
        await PutAsync("c", [Student("a"), Student("e")], dropsStudents: true);
        await PutAsync("c", [Student("a"), Student("e"), Student("f")], dropsStudents: true);
        Assert.Equal(["1", "2", "4"], await RevokedAsync());
        await GiveAsync("f", "8");
        Assert.Equal(["1", "2", "4", "6"], await RevokedAsync());

        static ApiKey Key(string id, Role role = Role.Student) => new()
        {
            Id = id, SecretHash = [1], Name = id, Role = role, CreatedAtUtc = StoreUnderTest.Now, CreatedBy = "key:instructor",
        };

        async Task PutAsync(string course, CourseStudent[] students, bool dropsStudents) => await store.Courses.ReplaceRosterAsync(
            course, (await store.Courses.FindAsync(course, Cancellation))!.Revision, students, dropsStudents, StoreUnderTest.Now, Instructor, Cancellation);

        async Task GiveAsync(string student, string key) => await store.Courses.GiveKeysAsync(
            "c", (await store.Courses.FindAsync("c", Cancellation))!.Revision, [new GivenKey(student, Key(key), "key:" + key)],
            StoreUnderTest.Now, Instructor, Cancellation);

        async Task<List<string>> RevokedAsync()
        {
            await using var context = store.NewContext();
            return await context.ApiKeys.AsNoTracking().Where(key => key.RevokedAtUtc == StoreUnderTest.Now).Select(key => key.Id).Order().ToListAsync(Cancellation);
        }
    }

    // Due dates by hand: x is the 1st, y the 2nd, z the 3rd of May.
    [Fact]
    public async Task ExtensionFollowsWhoeverHasItAndNobodyInheritsIt()
    {
        var (x, y, z) = (May(1), May(2), May(3));
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await PutAsync(Student("u1000", "key:1"), Student("b", "key:2"), Student("unnamed"), Student("named-later"));
        await ExtendAsync(("u1000", x), ("b", y), ("unnamed", z), ("named-later", z));

        // Corrected, given longer, corrected back: the newer one stands. Whoever stays, or has no actor, keeps theirs, and who is
        // named at last is the same student as before.
        await PutAsync(Student("u1000x", "key:1"), Student("b"), Student("unnamed"), Student("named-later", "key:3"));
        Assert.Equal([("b", y), ("named-later", z), ("u1000x", x), ("unnamed", z)], await DueAsync());
        await ExtendAsync(("u1000x", z), ("b", y));
        await PutAsync(Student("u1000", "key:1"), Student("b", "key:2"), Student("unnamed"));
        Assert.Equal([("b", y), ("u1000", z)], await DueAsync());

        // The next bearer of the identifier has none, whether or not its last one is still there.
        await PutAsync(Student("u1000x", "key:1"), Student("u1000", "key:4"), Student("b", "key:2"));
        Assert.Equal([("b", y), ("u1000x", z)], await DueAsync());
        await PutAsync(Student("u1000x", "key:5"), Student("b", "key:2"));
        Assert.Equal([("b", y)], await DueAsync());

        // Two who had each other's key.
        await PutAsync(Student("a", "key:1"), Student("b", "key:2"), Student("d", "key:3"));
        await ExtendAsync(("a", x), ("b", y));
        await PutAsync(Student("a", "key:2"), Student("b", "key:1"), Student("d", "key:3"));
        Assert.Equal([("a", y), ("b", x)], await DueAsync());

        // An actor who has none takes it with them, and whose it was has none in its stead.
        await PutAsync(Student("a", "key:3"), Student("b", "key:1"), Student("d"));
        Assert.Equal([("b", x)], await DueAsync());

        // Whoever falls out has lost it, by whatever name they are put back.
        await PutAsync(Student("a", "key:3"));
        await PutAsync(Student("a", "key:3"), Student("b", "key:1"));
        Assert.Empty(await DueAsync());

        static DateTime May(int day) => new(2026, 5, day, 0, 0, 0, DateTimeKind.Utc);

        async Task<int> RevisionAsync() => (await store.Courses.FindAsync("c", Cancellation))!.Revision;

        async Task PutAsync(params CourseStudent[] students) => await store.Courses.ReplaceRosterAsync(
            "c", await RevisionAsync(), students, dropsStudents: true, StoreUnderTest.Now, Instructor, Cancellation);

        async Task ExtendAsync(params (string Student, DateTime Due)[] longer) => await store.Courses.ReplaceExtensionsAsync(
            "c", await RevisionAsync(), longer.ToDictionary(each => each.Student, each => each.Due), StoreUnderTest.Now, Instructor, Cancellation);

        // Of rows kept of those who fell out too.
        async Task<IEnumerable<(string Student, DateTime Due)>> DueAsync()
        {
            await using var context = store.NewContext();
            var rows = await context.CourseStudents.AsNoTracking().Where(student => student.DueAtUtc != null).ToListAsync(Cancellation);
            return rows.Select(student => (student.StudentKey, student.DueAtUtc!.Value)).Order();
        }
    }

    [Fact]
    public async Task RosterNamesNobodysStaffKey()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Keys.AddAsync(
            new ApiKey { Id = "3", SecretHash = [1], Name = "g", Role = Role.Grader, CreatedAtUtc = StoreUnderTest.Now, CreatedBy = "key:instructor" }, null,
            Instructor, Cancellation);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);

        var refused = await Assert.ThrowsAsync<CourseRuleException>(() => store.Courses.ReplaceRosterAsync(
            "c", 1, [Student("a", "key:3")], dropsStudents: false, StoreUnderTest.Now, Instructor, Cancellation));

        Assert.Equal(CourseRule.StaffAndStudent, refused.Rule);
        Assert.Contains("key:3", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task StaffIsReplacedWholeAndSeesTheCourse()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await store.Courses.ReplaceRosterAsync("c", 1, [Student("a", "key:1")], dropsStudents: true, StoreUnderTest.Now, Instructor, Cancellation);
        var first = Assert.Single(await store.Courses.StaffAsync("c", Cancellation));

        await store.Courses.ReplaceStaffAsync("c", 2, [Staff("key:2", isOwner: true), Staff("key:3")], Instructor, Cancellation);
        var owner = Instructor with { Actor = "key:2" };
        var student = await Assert.ThrowsAsync<CourseRuleException>(
            () => store.Courses.ReplaceStaffAsync("c", 3, [Staff("key:2", isOwner: true), Staff("key:1")], owner, Cancellation));
        var staff = await Assert.ThrowsAsync<CourseRuleException>(
            () => store.Courses.ReplaceRosterAsync("c", 3, [Student("a", "key:3")], dropsStudents: true, StoreUnderTest.Now, owner, Cancellation));

        Assert.Equal(("key:instructor", true), (first.Actor, first.IsOwner));
        Assert.Equal(
            [("key:2", true), ("key:3", false)],
            (await store.Courses.StaffAsync("c", Cancellation)).Select(member => (member.Actor, member.IsOwner)));
        Assert.All([student, staff], refused => Assert.Equal(CourseRule.StaffAndStudent, refused.Rule));
        Assert.Single(await store.Courses.ListAsync("key:3", asStaff: true, archived: false, null, 10, Cancellation));
        Assert.Empty(await store.Courses.ListAsync("key:3", asStaff: false, archived: false, null, 10, Cancellation));
        Assert.Empty(await store.Courses.ListAsync("key:instructor", asStaff: true, archived: false, null, 10, Cancellation));
    }

    [Fact]
    public async Task WhoMadeACourseOwnsItInADatabaseThatKnewNoStaff()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await using var context = store.NewContext();
        var migrator = context.GetService<IMigrator>();
        await migrator.MigrateAsync("20261129113000_CompressedAnswers", Cancellation);

        await migrator.MigrateAsync(cancellationToken: Cancellation);

        var owner = Assert.Single(await store.Courses.StaffAsync("c", Cancellation));
        Assert.Equal(("key:instructor", true), (owner.Actor, owner.IsOwner));
    }

    // A key replaced here is good for another course still, a sign-in for as long as the institution says.
    [Fact]
    public async Task ExaminationKnowsWhoeverARosterOfItsStaffEverNamed()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await store.Courses.AddAsync(Course("other"), null, Instructor, Cancellation);
        await store.Courses.AddAsync(Course("foreign"), null, new AuditOrigin("key:colleague", null, "t"), Cancellation);
        await NameAsync("c", "é-1", "sign-in:u1 x");
        await NameAsync("c", "é-1", "key:1");
        await NameAsync("other", "é-1", "key:2");
        await NameAsync("other", "é-1", "key:3");
        await NameAsync("c", "\u00c4s2", "key:4");
        await NameAsync("other", "\u00e4s2", "key:5");
        await NameAsync("foreign", "\u00c4s2", "key:6");
        await NameAsync("other", "another", "key:7");
        var successor = new CourseStaff { CourseId = "other", Actor = "key:colleague", IsOwner = true, IsServing = true };
        await store.Courses.ReplaceStaffAsync("other", 5, [successor], Instructor, Cancellation);
        Assert.Null(await AskAsync("key:4", keepsUnnamed: true));

        await store.Courses.ChangeAsync(
            "c", 4, (course, _) => (course.IsExamination, course.HandOutNumber) = (true, 1), "course.change", StoreUnderTest.Now, Instructor, Cancellation);

        // Whoever its own roster named, and by the rosters of others whoever is enrolled.
        foreach (var (actor, isKept) in new[]
        {
            ("key:4", true), ("key:5", true), ("sign-in:u1 x", true), ("key:1", true), ("key:2", false), ("key:3", false), ("key:7", false),
        })
        {
            Assert.Equal(isKept ? new { Id = "c", IsNamed = true } : null, KeptFrom(await AskAsync(actor, keepsUnnamed: true)));
        }

        await NameAsync("c", "\u00e9-1", "key:8");
        foreach (var actor in new[] { "sign-in:u1 x", "key:1", "key:2", "key:3", "key:8" })
        {
            Assert.Equal(new { Id = "c", IsNamed = true }, KeptFrom(await AskAsync(actor)));
        }

        // Of the foreign course nobody was ever of this staff.
        Assert.Null(await AskAsync("key:6", keepsUnnamed: true));
        Assert.Null(await AskAsync("key:9"));
        Assert.Null(await AskAsync("key:9", keepsUnnamed: true));
        await store.Courses.ChangeAsync(
            "c", 6, (course, _) => course.ClosesAtUtc = StoreUnderTest.Now.AddHours(1), "course.change", StoreUnderTest.Now, Instructor, Cancellation);
        Assert.Equal(new { Id = "c", IsNamed = false }, KeptFrom(await AskAsync("key:9", keepsUnnamed: true)));

        // Where everybody is known, an identifier is the same student whoever teaches them.
        await NameAsync("c", "\u00c4s2", "key:4");
        Assert.Null(await AskAsync("key:6"));
        Assert.Equal(new { Id = "c", IsNamed = true }, KeptFrom(await AskAsync("key:6", keepsUnnamed: true)));

        static object? KeptFrom(SatExamination? found) => found is null ? null : new { found.Course.Id, found.IsNamed };

        async Task NameAsync(string course, string student, string actor) => await store.Courses.ReplaceRosterAsync(
            course, (await store.Courses.FindAsync(course, Cancellation))!.Revision, [Student(student, actor, course)],
            dropsStudents: true, StoreUnderTest.Now, Instructor with { IsAdministrator = true }, Cancellation);

        Task<SatExamination?> AskAsync(string actor, bool keepsUnnamed = false) =>
            store.Courses.ExaminationOfAsync(actor, keepsUnnamed, StoreUnderTest.Now, Cancellation);
    }

    [Fact]
    public async Task WhomRostersNameIsKnownInADatabaseThatKeptNothingElse()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation);
        await store.Courses.ReplaceRosterAsync(
            "c", 1, [Student("a", "key:1"), Student("b")], dropsStudents: false, StoreUnderTest.Now, Instructor, Cancellation);
        await store.Courses.ChangeAsync(
            "c", 2, (course, _) => (course.IsExamination, course.HandOutNumber) = (true, 1), "course.change", StoreUnderTest.Now, Instructor, Cancellation);
        await using var context = store.NewContext();
        var migrator = context.GetService<IMigrator>();
        await migrator.MigrateAsync("20261130004453_PrintedReadings", Cancellation);

        await migrator.MigrateAsync(cancellationToken: Cancellation);

        Assert.True((await store.Courses.ExaminationOfAsync("key:1", false, StoreUnderTest.Now, Cancellation))!.IsNamed);
    }

    [Fact]
    public async Task HandOutIsRefusedOnAChangedCourseAndOnceReportsAreHandedIn()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 2, withReports: false, Cancellation);
        var course = (await store.Courses.FindAsync("c", Cancellation))!;
        var stale = Course("c");

        Assert.Equal(1, course.HandOutNumber);
        Assert.Equal(["s0000", "s0001"], (await store.HandOuts.AssignmentsAsync("c", 1, null, Cancellation)).Select(row => row.StudentKey));
        Assert.Equal(CourseRule.Stale, (await RefusedAsync(() => HandOutAsync(stale))).Rule);
        await store.Reports.AddAsync(Report(0, handedIn: false), 2, null, Instructor, Cancellation);
        await HandOutAsync(course);
        course = (await store.Courses.FindAsync("c", Cancellation))!;
        Assert.Equal(2, course.HandOutNumber);
        var second = new CourseReport
        {
            Id = "second",
            CourseId = "c",
            HandOutNumber = 2,
            StudentKey = "s0000",
            Number = 1,
            BodyJson = "{}",
            CreatedAtUtc = StoreUnderTest.Now,
            HandedInAtUtc = StoreUnderTest.Now,
            Revision = 1,
        };
        await store.Reports.AddAsync(second, 2, null, Instructor, Cancellation);
        Assert.Equal(
            CourseRule.ReportsHandedIn,
            (await RefusedAsync(() => store.HandOuts.AddAsync(course, HandOut(3), [], null, Instructor, Cancellation))).Rule);

        Task HandOutAsync(Course read) =>
            store.HandOuts.AddAsync(read, HandOut(2), [Assignment(0, 2)], null, Instructor, Cancellation);
    }

    [Fact]
    public async Task AttemptsAreCountedAndADraftBlocksTheNext()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 1, withReports: false, Cancellation);
        var draft = (await store.Reports.AddAsync(Report(0, handedIn: false), 2, null, Instructor, Cancellation)).Value;

        Assert.Equal(CourseRule.DraftOpen, (await RefusedAsync(() => AddAsync("x"))).Rule);
        Assert.Equal(CourseRule.Stale, (await RefusedAsync(() => ChangeAsync(draft.Id, 5))).Rule);
        var handedIn = await ChangeAsync(draft.Id, 1);
        Assert.Equal((1, 2), (handedIn!.Attempt, handedIn.Revision));
        Assert.Equal(CourseRule.HandedIn, (await RefusedAsync(() => ChangeAsync(draft.Id, 2))).Rule);
        Assert.Null(await ChangeAsync("nothing", 1));
        Assert.Equal(2, (await AddAsync("b")).Value.Attempt);
        Assert.Equal(CourseRule.AttemptsUsed, (await RefusedAsync(() => AddAsync("c"))).Rule);
        Assert.Equal("r0000b", Assert.Single(await store.Reports.CountedAsync("c", 1, false, Cancellation)).Id);

        Task<Created<CourseReport>> AddAsync(string suffix) =>
            store.Reports.AddAsync(Report(0, suffix: suffix), 2, null, Instructor, Cancellation);

        Task<CourseReport?> ChangeAsync(string id, int revision) => store.Reports.ChangeAsync(
            "c", id, revision, "{}", StoreUnderTest.Now, true, Instructor, Cancellation);
    }

    [Fact]
    public async Task UnknownsOfADatabaseThatKnewNoGroupsAreTheirStudentsOwn()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 2, withReports: true, Cancellation);
        await using var context = store.NewContext();
        var migrator = context.GetService<IMigrator>();
        await migrator.MigrateAsync("20261130195203_CuratedImports", Cancellation);

        await migrator.MigrateAsync(cancellationToken: Cancellation);

        Assert.All(await store.HandOuts.AssignmentsAsync("c", 1, null, Cancellation), row => Assert.Equal((row.StudentKey, null), (row.HolderKey, row.GroupName)));
        Assert.Equal("s0001", await store.HandOuts.HolderOfAsync("c", 1, "s0001", Cancellation));
        Assert.Equal(["r0000", "r0001"], (await store.Reports.CountedAsync("c", 1, false, Cancellation)).Select(report => report.Id));
    }

    // Two share an unknown and its one report, the third has its own: three grades, read one at a time.
    [Fact]
    public async Task GradeOfAGroupIsEachOfItsMembersWithWhatWasChangedForThem()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var course = (await store.Courses.AddAsync(Course("c"), null, Instructor, Cancellation)).Value;
        await store.HandOuts.AddAsync(
            course,
            HandOut(),
            [
                Assignment(0) with { GroupName = "A" },
                Assignment(1) with { HolderKey = "s0000", GroupName = "A", Code = "code-0" },
                Assignment(2),
            ],
            null,
            Instructor,
            Cancellation);
        CourseReport[] reports = [Report(0), Report(2)];
        foreach (var report in reports)
        {
            await store.Reports.AddAsync(report, 2, null, Instructor, Cancellation);
        }

        var grading = Grading("g", 2);
        await store.Gradings.AddAsync((await store.Courses.FindAsync("c", Cancellation))!, grading, reports.Select(report => report.Id), null, Instructor, Cancellation);
        await store.Gradings.StoreAsync(grading, [.. reports.Select(report => Grade(report))], new Dictionary<string, string>(), Cancellation);
        foreach (var (id, student) in new[] { ("m1", (string?)null), ("m2", "s0001") })
        {
            await store.Get<Moderations>().AddAsync(
                new StoredModeration(id, "c", "r0000", "g", Core.Teaching.Grading.CriterionKind.RightCompound, 1, "why", 2, "key:grader", StoreUnderTest.Now) { StudentKey = student },
                null,
                null,
                Instructor,
                Cancellation);
        }

        var rows = new List<GradedReport>();
        while (await store.Gradings.GradesAsync(grading, null, rows.LastOrDefault()?.Place, 1, Cancellation) is [var next])
        {
            rows.Add(next);
        }

        Assert.Equal(
            [("r0000", "s0000", "m1"), ("r0000", "s0001", "m1 m2"), ("r0002", "s0002", "")],
            rows.Select(row => (row.Report.Id, row.Assignment.StudentKey, string.Join(' ', row.Moderations.Select(made => made.Id)))));
        Assert.Equal([true, false, true], rows.Select(row => row.IsOfHolder));
        Assert.Equal("s0001", Assert.Single(await store.Gradings.GradesAsync(grading, "s0001", null, 10, Cancellation)).Assignment.StudentKey);
        Assert.Equal(["s0000", "s0001"], (await store.HandOuts.SharedAsync("c", 1, "s0000", Cancellation)).Select(row => row.StudentKey));
    }

    [Fact]
    public async Task ReportsAtOnceGetDifferentAttemptsAndNoMoreThanAllowed()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 1, withReports: false, Cancellation);

        var taken = await Task.WhenAll(Enumerable.Range(0, 6).Select(place => Task.Run(
            async () =>
            {
                try
                {
                    await store.Reports.AddAsync(Report(0, suffix: $"{place}"), 2, null, Instructor, Cancellation);
                    return 1;
                }
                catch (CourseRuleException)
                {
                    return 0;
                }
            },
            Cancellation)));

        await using var context = store.NewContext();
        var attempts = await context.CourseReports.Select(report => report.Attempt).ToListAsync(Cancellation);
        Assert.Equal(2, taken.Sum());
        Assert.Equal([1, 2], attempts.Order());
    }

    [Fact]
    public async Task WhatWasJudgedBeforeIsJudgedAgainWhereItIsWritten()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 3, withReports: false, Cancellation);
        var old = (await store.Reports.AddAsync(Report(0, handedIn: false), 2, null, Instructor, Cancellation)).Value;
        await store.HandOuts.AddAsync(
            (await store.Courses.FindAsync("c", Cancellation))!, HandOut(2), [Assignment(0, 2)], null, Instructor, Cancellation);

        // Read before the unknowns were handed out anew, written after: neither may count for a hand-out that is over.
        Assert.Equal(CourseRule.Closed, (await RefusedAsync(() => ChangeAsync(old.Id))).Rule);
        Assert.Equal(CourseRule.Closed, (await RefusedAsync(() => store.Reports.AddAsync(Report(1), 2, null, Instructor, Cancellation))).Rule);

        var draft = (await store.Reports.AddAsync(OnSecond("draft", null), 3, null, Instructor, Cancellation)).Value;
        await CourseAsync(course => course.ClosesAtUtc = StoreUnderTest.Now);
        Assert.Equal(CourseRule.Closed, (await RefusedAsync(() => ChangeAsync(draft.Id))).Rule);
        await CourseAsync(course => (course.ClosesAtUtc, course.PublishedGradingId) = (null, "g"));
        Assert.Equal(CourseRule.Closed, (await RefusedAsync(() => ChangeAsync(draft.Id))).Rule);
        Assert.Equal(CourseRule.Closed, (await RefusedAsync(
            () => store.Reports.AddAsync(OnSecond("late", StoreUnderTest.Now), 3, null, Instructor, Cancellation))).Rule);
        await CourseAsync(course => course.PublishedGradingId = null);
        Assert.NotNull((await ChangeAsync(draft.Id))!.HandedInAtUtc);

        Task<CourseReport?> ChangeAsync(string id) =>
            store.Reports.ChangeAsync("c", id, 1, "{}", StoreUnderTest.Now, true, Instructor, Cancellation);

        async Task CourseAsync(Action<Course> change) => await store.Courses.ChangeAsync(
            "c", (await store.Courses.FindAsync("c", Cancellation))!.Revision, (course, _) => change(course), "course.change", StoreUnderTest.Now, Instructor, Cancellation);

        static CourseReport OnSecond(string id, DateTime? handedIn) => new()
        {
            Id = id,
            CourseId = "c",
            HandOutNumber = 2,
            StudentKey = "s0000",
            Number = 1,
            BodyJson = "{}",
            CreatedAtUtc = StoreUnderTest.Now,
            HandedInAtUtc = handedIn,
            Revision = 1,
        };
    }

    [Fact]
    public async Task RequestSentSixTimesAtOnceIsAnsweredSixTimesAndCountsOnce()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 1, withReports: false, Cancellation);

        var made = await Task.WhenAll(Enumerable.Range(0, 6).Select(place => Task.Run(
            () => store.Reports.AddAsync(Report(0, suffix: $"{place}"), 1, Mark("same"), Instructor, Cancellation), Cancellation)));

        Assert.Single(made, created => created.IsNew);
        Assert.Single(made.Select(created => created.Value.Id).Distinct());
        var course = (await store.Courses.AddAsync(Course("other"), null, Instructor, Cancellation)).Value;
        Assert.Equal(0, course.HandOutNumber);
    }

    [Fact]
    public async Task NoReportIsTakenOnAHandOutThatAnotherReplacesAtThatMoment()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 8, withReports: false, Cancellation);
        var course = (await store.Courses.FindAsync("c", Cancellation))!;

        var handingIn = Enumerable.Range(0, 8).Select(student => Task.Run(() => DoneAsync(
            () => store.Reports.AddAsync(Report(student), 2, null, new AuditOrigin($"key:{student}", null, "trace") { IsAdministrator = true }, Cancellation)), Cancellation)).ToList();
        var handingOut = Task.Run(() => DoneAsync(
            () => store.HandOuts.AddAsync(course, HandOut(2), [Assignment(0, 2)], null, Instructor, Cancellation)), Cancellation);
        var taken = (await Task.WhenAll(handingIn)).Sum();
        var replaced = await handingOut;

        // Either the first report kept the hand-out in force, or the new hand-out kept every report out.
        Assert.Equal(replaced == 1 ? 0 : 8, taken);
        Assert.Equal(taken, (await store.Reports.CountedAsync("c", 1, false, Cancellation)).Count);

        static async Task<int> DoneAsync(Func<Task> work)
        {
            try
            {
                await work();
                return 1;
            }
            catch (CourseRuleException)
            {
                return 0;
            }
        }
    }

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }

    private static Task<CourseRuleException> RefusedAsync(Func<Task> write) =>
        Assert.ThrowsAsync<CourseRuleException>(write);

    public sealed class OnSqlite() : CoursesTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : CoursesTests(async () => await server.NewDatabaseAsync());
}

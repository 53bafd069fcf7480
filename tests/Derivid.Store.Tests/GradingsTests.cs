using Derivid.Store.Teaching;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using static Derivid.Store.Tests.TeachingSample;

namespace Derivid.Store.Tests;

public abstract class GradingsTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static readonly Dictionary<string, string> None = [];

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task GradingGoesOnWhereItWasLeftWithNoGradeLostAndNoneTwice()
    {
        await using var database = await newDatabase();
        await using (var first = await StartedAsync(database))
        {
            await FillAsync(first, 30, withReports: true, Cancellation);
            await StartAsync(first, "g", 30);
            var taken = await first.Gradings.TakeAsync(null, Cancellation);
            var batch = await first.Gradings.WaitingAsync(taken!, 12, Cancellation);
            await first.Gradings.StoreAsync(taken!, Grades(batch), None, Cancellation);
            Assert.NotNull(await first.Gradings.TakeAsync(null, Cancellation));

            // Killed here, amid a batch: nothing is finished, the lease runs on.
            Assert.Null(await first.Gradings.TakeAsync(null, Cancellation));
        }

        await using var store = new StoreUnderTest(database.NewEngine(), StoreUnderTest.Now + Gradings.Lease + TimeSpan.FromSeconds(1));
        var again = (await store.Gradings.TakeAsync(null, Cancellation))!;
        Assert.Equal(12, await store.Gradings.DoneAsync("g", Cancellation));
        while (await store.Gradings.WaitingAsync(again, 7, Cancellation) is { Count: > 0 } batch)
        {
            await store.Gradings.StoreAsync(again, Grades(batch), None, Cancellation);
        }

        await store.Gradings.FinishAsync(again, Cancellation);
        await store.Gradings.FinishAsync(again, Cancellation);

        var graded = await store.Gradings.GradesAsync(again, null, null, 100, Cancellation);
        Assert.Equal(Enumerable.Range(0, 30).Select(student => Report(student).Id), graded.Select(row => row.Report.Id));
        Assert.All(graded, row => Assert.Equal(7.5, row.Grade!.Total));
        Assert.Equal(30, await CountAsync(store));
        Assert.Null(await store.Gradings.TakeAsync(null, Cancellation));
        Assert.Single(await store.Audit.ReadAsync(new(Action: "grading.finish"), null, false, 10, Cancellation));
    }

    [Fact]
    public async Task OneProcessOfManyTakesAGrading()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 1, withReports: true, Cancellation);
        await StartAsync(store, "g", 1);

        var taken = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ =>
            Task.Run(() => store.Gradings.TakeAsync(null, Cancellation), Cancellation)));

        Assert.Single(taken, grading => grading is not null);
    }

    [Fact]
    public async Task CoursesTakeTurns()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        foreach (var course in new[] { "b", "c", "d" })
        {
            await store.Courses.AddAsync(Course(course), null, Instructor, Cancellation);
        }

        foreach (var (course, grading) in new[] { ("c", "g1"), ("c", "g2"), ("c", "g3"), ("d", "h"), ("b", "i") })
        {
            await StartAsync(store, grading, 0, course: course);
        }

        var taken = new List<string>();
        string? last = null;
        while (await store.Gradings.TakeAsync(last, Cancellation) is { } grading)
        {
            last = grading.CourseId;
            taken.Add(grading.Id);
        }

        Assert.Equal(["i", "g1", "h", "g2", "g3"], taken);
    }

    [Fact]
    public async Task SecondGradingOnTheSameBasisKeepsTheGradesOfTheFirst()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 3, withReports: true, Cancellation);
        await RunAsync(store, "g", "basis", "first");
        await RunAsync(store, "h", "basis", "second");
        await RunAsync(store, "i", "other", "third");

        Assert.Equal(6, await CountAsync(store));
        var second = (await store.Gradings.FindAsync("c", "h", Cancellation))!;
        Assert.All(
            await store.Gradings.GradesAsync(second, null, null, 10, Cancellation),
            row => Assert.Equal("first", row.Grade!.GradeJson));
        var third = (await store.Gradings.FindAsync("c", "i", Cancellation))!;
        Assert.Equal(
            ["third"],
            (await store.Gradings.GradesAsync(third, "s0001", null, 10, Cancellation)).Select(row => row.Grade!.GradeJson));
    }

    [Fact]
    public async Task ReportThatCannotBeGradedIsDoneWithItsReason()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 2, withReports: true, Cancellation);
        var grading = await StartAsync(store, "g", 2);
        await store.Gradings.StoreAsync(
            grading, [Grade(Report(0))], new Dictionary<string, string> { ["r0001"] = "No such parent." }, Cancellation);

        Assert.Empty(await store.Gradings.WaitingAsync(grading, 10, Cancellation));
        var rows = await store.Gradings.GradesAsync(grading, null, null, 10, Cancellation);
        Assert.Equal([null, "No such parent."], rows.Select(row => row.Problem));
        Assert.Null(rows[1].Grade);
    }

    [Fact]
    public async Task CourseIsNotDeletedAmidAGradingAndNoneBeginsOnceItIsArchived()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 2, withReports: true, Cancellation);
        var grading = await StartAsync(store, "g", 2);
        await store.Courses.ChangeAsync("c", await RevisionAsync(store), (course, _) => course.ClosesAtUtc = StoreUnderTest.Now.AddDays(-1), "made up", StoreUnderTest.Now, Instructor, Cancellation);
        await store.Courses.ArchiveAsync("c", await RevisionAsync(store), StoreUnderTest.Now, StoreUnderTest.Now, Instructor, Cancellation);

        var revision = await RevisionAsync(store);
        var graded = await Assert.ThrowsAsync<CourseRuleException>(() => store.Courses.DeleteAsync("c", revision, StoreUnderTest.Now, Instructor, Cancellation));
        var archived = await Assert.ThrowsAsync<CourseRuleException>(() => StartAsync(store, "h", 2));
        await store.Gradings.StoreAsync(grading, Grades(await store.Gradings.WaitingAsync(grading, 10, Cancellation)), None, Cancellation);
        await store.Gradings.FinishAsync(grading, Cancellation);
        var deleted = await store.Courses.DeleteAsync("c", await RevisionAsync(store), StoreUnderTest.Now, Instructor, Cancellation);
        var gone = await Assert.ThrowsAsync<CourseRuleException>(() => StartAsync(store, "i", 2));

        Assert.Contains("being graded", graded.Message, StringComparison.Ordinal);
        Assert.Equal((CourseRule.Archived, CourseRule.Archived), (archived.Rule, gone.Rule));
        Assert.Equal((2, 1), (deleted!.Reports, deleted.Gradings));
        Assert.Null(await store.Gradings.TakeAsync(null, Cancellation));
    }

    // Whoever is first, no grading is left of a course that is deleted.
    [Fact]
    public async Task GradingThatBeginsWhileItsCourseIsPutAwayAndDeletedStandsOrIsRefused()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, 2, withReports: true, Cancellation);
        await store.Courses.ChangeAsync("c", await RevisionAsync(store), (course, _) => course.ClosesAtUtc = StoreUnderTest.Now.AddDays(-1), "made up", StoreUnderTest.Now, Instructor, Cancellation);

        var begun = Enumerable.Range(0, 6).Select(n => Task.Run(() => StartAsync(store, $"g{n}", 2, sender: $"grader {n}"), Cancellation)).ToList();
        await store.Courses.ArchiveAsync("c", await RevisionAsync(store), StoreUnderTest.Now, StoreUnderTest.Now, Instructor, Cancellation);
        var isDeleted = await Refusal(store.Courses.DeleteAsync("c", await RevisionAsync(store), StoreUnderTest.Now, Instructor, Cancellation)) is null;
        var refused = await Task.WhenAll(begun.Select(Refusal));

        Assert.All(refused, refusal => Assert.True(refusal is null or CourseRule.Archived, $"{refusal}"));
        await using var context = store.NewContext();
        Assert.Equal(refused.Count(refusal => refusal is null), await context.Gradings.CountAsync(Cancellation));
        Assert.False(isDeleted && refused.Contains(null), "A grading outlived its course.");
    }

    private static async Task<CourseRule?> Refusal(Task work)
    {
        try
        {
            await work;
            return null;
        }
        catch (CourseRuleException refused)
        {
            return refused.Rule;
        }
    }

    private static async Task<int> RevisionAsync(StoreUnderTest store) => (await store.Courses.FindAsync("c", Cancellation))!.Revision;

    private static async Task RunAsync(StoreUnderTest store, string id, string basis, string json)
    {
        var grading = await StartAsync(store, id, 3, basis);
        var batch = await store.Gradings.WaitingAsync(grading, 10, Cancellation);
        await store.Gradings.StoreAsync(
            grading, [.. batch.Select(row => Grade(row.Report, basis, json))], None, Cancellation);
    }

    private static async Task<Grading> StartAsync(StoreUnderTest store, string id, int reports, string basis = "basis", string course = "c", string? sender = null) =>
        (await store.Gradings.AddAsync(
            await CourseAsync(store, course),
            Grading(id, reports, basis, course),
            Enumerable.Range(0, reports).Select(student => Report(student).Id),
            null,
            sender is null ? Instructor : Instructor with { Actor = sender, IsAdministrator = true },
            Cancellation)).Value;

    // As it is, deleted or not.
    private static async Task<Course> CourseAsync(StoreUnderTest store, string id)
    {
        await using var context = store.NewContext();
        return await context.Courses.AsNoTracking().FirstAsync(course => course.Id == id, Cancellation);
    }

    private static CourseGrade[] Grades(IEnumerable<ReportToGrade> batch) => [.. batch.Select(row => Grade(row.Report))];

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }

    private static async Task<int> CountAsync(StoreUnderTest store)
    {
        await using var context = store.NewContext();
        return await context.CourseGrades.CountAsync(Cancellation);
    }

    public sealed class OnSqlite() : GradingsTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : GradingsTests(async () => await server.NewDatabaseAsync());
}

using System.Globalization;
using Derivid.Store.Access;
using Derivid.Store.Curation;
using Derivid.Store.Databases;
using Derivid.Testing;
using static Derivid.Store.Tests.TeachingSample;

namespace Derivid.Store.Tests;

/// <summary>What is made later stands later in a list, also within a millisecond.</summary>
public abstract class ResourceIdsTests(Func<Task<ITestDatabase>> newDatabase)
{
    private const int Many = 40;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task CoursesReportsAndGradingsAreListedAsTheyWereMade()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await FillAsync(store, Many, withReports: false, Cancellation);
        var ids = store.Get<ResourceIds>();
        List<string> courses = [], reports = [], gradings = [];
        for (var i = 0; i < Many; i++)
        {
            courses.Add((await store.Courses.AddAsync(Course(ids.New()), null, Instructor, Cancellation)).Value.Id);
            reports.Add((await store.Reports.AddAsync(Report(i, id: ids.New()), 2, null, Instructor, Cancellation)).Value.Id);
            gradings.Add((await store.Gradings.AddAsync((await store.Courses.FindAsync("c", Cancellation))!, Grading(ids.New(), 0), [], null, Instructor, Cancellation)).Value.Id);
        }

        // The sample's own course is "c", after every digit and before every other letter an id can have.
        Assert.Equal(courses, await AllAsync(beyond => store.Courses.ListAsync(null, asStaff: false, archived: false, beyond, 7, Cancellation), course => course.Id, [Course("c").Id]));
        Assert.Equal(reports, await AllAsync(beyond => store.Reports.ListAsync("c", 1, null, beyond, 7, Cancellation), report => report.Id));
        Assert.Equal(gradings, await AllAsync(beyond => store.Gradings.ListAsync("c", beyond, 7, Cancellation), done => done.Grading.Id));
        Assert.Equal(gradings[0], (await store.Gradings.TakeAsync(null, Cancellation))!.Id);
    }

    [Fact]
    public async Task ProposalsAreListedNewestFirstAndRemarksOldestFirst()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var proposals = store.Get<Proposals>();
        var made = new List<string>();
        for (var i = 0; i < Many; i++)
        {
            made.Add((await proposals.CreateAsync(Instructor, null, "t", null, 1, null, [], Cancellation)).Value.Id);
            await proposals.CommentAsync(Instructor, null, made[0], i.ToString(CultureInfo.InvariantCulture), Cancellation);
        }

        Assert.Equal(
            Enumerable.Reverse(made), await AllAsync(beyond => proposals.ListAsync(null, beyond, 7, Cancellation), row => row.Id));
        Assert.Equal(
            Enumerable.Range(0, Many).Select(i => i.ToString(CultureInfo.InvariantCulture)),
            (await proposals.CommentsAsync(made[0], Cancellation)).Select(comment => comment.Text));
    }

    [Fact]
    public async Task KeysAreListedAsTheyWereMadeThoughTheirPublicPartsTellNoTime()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        string[] made = ["cc", "aa", "dd", "bb", "ee"];
        foreach (var (place, id) in made.Index())
        {
            // Two of them in one instant, which stand by their public parts.
            var instant = StoreUnderTest.Now.AddMicroseconds(place == 1 ? 0 : place);
            await store.Keys.AddAsync(Sample.Key(id, createdAtUtc: instant), null, Instructor, Cancellation);
        }

        var listed = new List<ApiKey>();
        while (await store.Keys.ListAsync(
            new ApiKeyFilter(), listed.Count == 0 ? null : ApiKeyPlace.Parse(ApiKeyPlace.Of(listed[^1]).ToString()), 2, Cancellation)
            is { Count: > 0 } page)
        {
            listed.AddRange(page);
        }

        Assert.Equal(["aa", "cc", "dd", "bb", "ee"], listed.Select(key => key.Id));
    }

    [Theory]
    [InlineData("")]
    [InlineData("0000000000000000000")]
    [InlineData("999999999999999999900")]
    [InlineData("-000000000000000001aa")]
    [InlineData("0000000000000000001AA")]
    public void PlaceMadeUpIsRefused(string text) => Assert.Null(ApiKeyPlace.Parse(text));

    private static async Task<List<string>> AllAsync<T>(
        Func<string?, Task<List<T>>> read, Func<T, string> id, IReadOnlyList<string>? leftOut = null)
    {
        var listed = new List<string>();
        while (await read(listed.Count == 0 ? null : listed[^1]) is { Count: > 0 } page)
        {
            listed.AddRange(page.Select(id));
        }

        return [.. listed.Except(leftOut ?? [])];
    }

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync();
        return store;
    }

    public sealed class OnSqlite() : ResourceIdsTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : ResourceIdsTests(async () => await server.NewDatabaseAsync());
}

public sealed class ResourceIdTests
{
    [Fact]
    public void IdIsAVersion7Uuid()
    {
        var now = new DateTimeOffset(2026, 3, 14, 9, 26, 53, 589, TimeSpan.Zero);

        var id = new ResourceIds(new Clock(now)).New();

        Assert.True(ResourceIds.IsWellFormed(id));
        var uuid = Guid.ParseExact(id, "N");
        Assert.Equal((7, true), (uuid.Version, uuid.Variant is >= 8 and <= 11));

        // RFC 9562, 5.7: the first 48 bits are milliseconds since 1970, as the framework's own has them.
        Assert.Equal(Guid.CreateVersion7(now).ToString("N")[..12], id[..12]);
    }

    [Fact]
    public void LaterIdIsGreaterWhileTheClockStandsStillOrIsSetBack()
    {
        var clock = new Clock(DateTimeOffset.UnixEpoch.AddYears(56));
        var ids = new ResourceIds(clock);
        var made = new List<string>();
        for (var i = 0; i < 10_000; i++)
        {
            // More than the 4096 that one millisecond has room for, and in the middle the clock is set back.
            clock.Now -= TimeSpan.FromMinutes(i == 5000 ? 1 : 0);
            made.Add(ids.New());
        }

        clock.Now += TimeSpan.FromHours(1);
        made.Add(ids.New());

        Assert.Equal(made, made.Order(StringComparer.Ordinal));
        Assert.Equal(made.Count, made.Distinct().Count());
    }

    [Fact]
    public void ManyAtOnceAreAllDifferentAndHalfOfEachIsRandom()
    {
        var ids = new ResourceIds(TimeProvider.System);

        var made = ParallelEnumerable.Range(0, 20_000).Select(_ => ids.New()).ToList();

        Assert.Equal(made.Count, made.Distinct().Count());
        Assert.Equal(made.Count, made.Select(id => id[16..]).Distinct().Count());
    }

    [Theory]
    [InlineData("0f1e2d3c4b5a6978")]
    [InlineData("0192F1E2D3C470008B5A69780F1E2D3C")]
    [InlineData("0192f1e2-d3c4-7000-8b5a-69780f1e")]
    [InlineData("")]
    public void OtherTextsAreNoIds(string text) => Assert.False(ResourceIds.IsWellFormed(text));

    private sealed class Clock(DateTimeOffset now) : TimeProvider
    {
        public DateTimeOffset Now { get; set; } = now;

        public override DateTimeOffset GetUtcNow() => Now;
    }
}

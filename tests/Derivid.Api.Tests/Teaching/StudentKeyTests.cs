using System.Net;
using System.Net.Http.Headers;
using Derivid.Api.Http;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Keys that an instructor gives to the students of a course; the same on both engines. Class and names are made up.</summary>
public abstract class StudentKeyTests(RunningService service) : IAsyncLifetime
{
    private Classroom? _room;

    private Classroom Room => _room!;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => _room = await Classroom.HandedOutAsync(service.Service);

    public async ValueTask DisposeAsync()
    {
        await Room.DisposeAsync();
        GC.SuppressFinalize(this);
    }

    [Fact]
    public async Task EverybodyWithoutAnActorGetsAKeyThatOpensTheirOwn()
    {
        var keys = await GivenAsync("{}");

        Assert.Equal(["s3", "s4", "s5", "s6"], keys.Keys.Order(StringComparer.Ordinal));
        foreach (var (student, key) in keys)
        {
            using var holder = Room.Service.ClientWith(key);
            Assert.Equal(Room.Codes[student], Assert.Single(await Classroom.AllAsync(holder, $"{Room.Address}/assignments")).GetProperty("code").GetString());
            using var roster = await holder.GetAsync($"{Room.Address}/roster", Patience);
            Assert.Equal(HttpStatusCode.Forbidden, roster.StatusCode);
        }

        var actors = (await Room.Instructor.JsonAtAsync($"{Room.Address}/roster")).GetProperty("students").EnumerateArray()
            .ToDictionary(student => student.GetProperty("student").GetString()!, student => student.GetProperty("actor").GetString());
        Assert.Equal((Room.AnnActor, Room.BenActor), (actors["ann"], actors["ben"]));
        Assert.All(keys, given => Assert.Equal("key:" + given.Value.Split('_')[1], actors[given.Key]));
        Assert.Equal("/students", await RefusedAsync("{}"));
    }

    [Fact]
    public async Task LostKeyIsReplacedAndWhatWasHandedInStays()
    {
        var lost = (await GivenAsync("""{ "students": ["s4"] }"""))["s4"];
        using (var before = Room.Service.ClientWith(lost))
        {
            await Room.HandInAsync(before, Room.Report("s4", "propanone"));
        }

        var found = (await GivenAsync("""{ "students": ["s4"], "validDays": 30 }"""))["s4"];

        using var finder = Room.Service.ClientWith(lost);
        using (var refused = await finder.GetAsync($"{Room.Address}/assignments", Patience))
        {
            Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
        }

        using var holder = Room.Service.ClientWith(found);
        Assert.Single(await Classroom.AllAsync(holder, $"{Room.Address}/reports"));
        var expires = (await holder.JsonAtAsync("/api/v1/keys/current")).GetProperty("key").GetProperty("expiresAt").GetDateTime();
        Assert.Equal(ServiceUnderTest.Now.UtcDateTime.AddDays(30), expires);
    }

    [Fact]
    public async Task LostKeyIsRevokedWhoeverElseNamesItAndOneFromElsewhereStaysGood()
    {
        await using var other = await Classroom.HandedOutAsync(service.Service);
        using var elsewhere = await Room.Service.ClientAsAsync(Role.Student);
        var key = (await GivenAsync("""{ "students": ["s5"] }"""))["s5"];
        await other.EnrolAsync("s5", "key:" + key.Split('_')[1]);
        await Room.EnrolAsync("s6", await Classroom.ActorAsync(elsewhere));

        await GivenAsync("""{ "students": ["s5", "s6"] }""");

        using var holder = Room.Service.ClientWith(key);
        using var gone = await holder.GetAsync($"{other.Address}/assignments", Patience);
        Assert.Equal(HttpStatusCode.Unauthorized, gone.StatusCode);
        Assert.NotEmpty(await Classroom.ActorAsync(elsewhere));
    }

    [Fact]
    public async Task WhomTheRosterDoesNotNameGetsNoneAndNeitherDoesAnybodyElse()
    {
        Assert.Equal("/students/1", await RefusedAsync("""{ "students": ["s3", "nobody"] }"""));
        Assert.Equal("/students/1", await RefusedAsync("""{ "students": ["s3", "s3"] }"""));
        Assert.Equal("/validDays", await RefusedAsync("""{ "validDays": 0 }"""));
        using (var stale = await SendAsync("{}", "\"1\""))
        {
            await stale.ProblemAsync(ProblemTypes.StaleRevision);
        }

        Assert.DoesNotContain(
            (await Room.Instructor.JsonAtAsync($"{Room.Address}/roster")).GetProperty("students").EnumerateArray(),
            student => student.GetProperty("student").GetString() == "s3" && student.TryGetProperty("actor", out _));
    }

    private async Task<Dictionary<string, string>> GivenAsync(string request)
    {
        using var answer = await SendAsync(request);
        Assert.True(answer.Headers.CacheControl!.NoStore);
        return (await answer.JsonAsync(HttpStatusCode.OK)).GetProperty("keys").EnumerateArray()
            .ToDictionary(key => key.GetProperty("student").GetString()!, key => key.GetProperty("key").GetString()!);
    }

    // The one place that is refused.
    private async Task<string> RefusedAsync(string request)
    {
        using var answer = await SendAsync(request);
        return Assert.Single((await answer.ProblemAsync(ProblemTypes.InvalidRequest))["errors"]!.AsObject()).Key;
    }

    private async Task<HttpResponseMessage> SendAsync(string request, string? tag = null)
    {
        using var current = await Room.Instructor.GetAsync(Room.Address, Patience);
        using var post = new HttpRequestMessage(HttpMethod.Post, $"{Room.Address}/keys") { Content = Requests.Json(request) };
        post.Headers.IfMatch.Add(tag is null ? current.Headers.ETag! : EntityTagHeaderValue.Parse(tag));
        return await Room.Instructor.SendAsync(post, Patience);
    }

    public sealed class OnSqlite(SqliteService service) : StudentKeyTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : StudentKeyTests(service), IClassFixture<PostgreSqlService>;
}

using System.Net;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;
using Derivid.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Curation;

/// <summary>What classes teach the table over HTTP, the same on both engines. Classes and readings are made up.</summary>
public abstract class LearningTests(RunningService running) : IAsyncLifetime
{
    private const string Learning = "/api/v1/learning";

    private Curator? _author;
    private Curator? _reviewer;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    private ServiceUnderTest Service => running.Service;

    private Curator Author => _author!;

    private Curator Reviewer => _reviewer!;

    public async ValueTask InitializeAsync()
    {
        _author = new Curator(await Service.ClientAsAsync(Role.Instructor));
        _reviewer = new Curator(await Service.ClientAsAsync(Role.Instructor));

        // The service is the class's own; what an earlier test had in it is put away.
        await using var context = await ContextAsync();
        await context.Courses.ExecuteUpdateAsync(
            course => course.SetProperty(row => row.IsLearnedFrom, false).SetProperty(row => row.ArchivedAtUtc, TaughtClass.LongAgo), Cancellation);
    }

    public ValueTask DisposeAsync()
    {
        GC.SuppressFinalize(this);
        _author!.Client.Dispose();
        _reviewer!.Client.Dispose();
        return ValueTask.CompletedTask;
    }

    [Fact]
    public async Task CoursesCountThatOptedInAndOnlyAsLongAsTheyDo()
    {
        var first = await new TaughtClass().WriteAsync(Service);
        var second = await new TaughtClass { IsLearnedFrom = false }.WriteAsync(Service);
        await new TaughtClass { IsPractice = true }.WriteAsync(Service);
        await new TaughtClass { IsInvented = true }.WriteAsync(Service);
        var one = await LookAsync();
        await ChangeAsync(second, course => course.SetProperty(row => row.IsLearnedFrom, true));
        var both = await LookAsync();
        await ChangeAsync(first, course => course.SetProperty(row => row.IsLearnedFrom, false));
        var without = await LookAsync();

        // One course alone teaches nothing, or it would be told by itself.
        Assert.Equal((0, 0, 0), Counts(one));
        Assert.Equal(2, both.GetProperty("courses").GetInt32());
        Assert.Equal(16, Tollens(both, "aldehyde").GetProperty("reports").GetInt32());
        Assert.Equal(32, Tollens(both, "any").GetProperty("reports").GetInt32());
        Assert.Equal(2, Tollens(both, "any").GetProperty("compounds").GetInt32());
        Assert.Equal(one.GetRawText(), without.GetRawText());
    }

    [Fact]
    public async Task FewerThanFiveStudentsTeachNothingHoweverOftenTheyHandIn()
    {
        await new TaughtClass { Students = 4, Attempts = 3 }.WriteAsync(Service);
        await new TaughtClass { Students = 4, Attempts = 3 }.WriteAsync(Service);

        Assert.Equal((0, 0, 0), Counts(await LookAsync()));
    }

    [Fact]
    public async Task OfSeveralReportsOfAStudentTheLastIsCounted()
    {
        await new TaughtClass { Attempts = 3 }.WriteAsync(Service);
        await new TaughtClass { Attempts = 3 }.WriteAsync(Service);

        Assert.Equal(16, Tollens(await LookAsync(), "aldehyde").GetProperty("reports").GetInt32());
    }

    [Fact]
    public async Task ThirdCourseWaitsForAFourth()
    {
        await new TaughtClass().WriteAsync(Service);
        await new TaughtClass().WriteAsync(Service);
        var two = await LookAsync();
        await new TaughtClass { PublishedAt = TaughtClass.LongAgo.AddDays(20) }.WriteAsync(Service);
        var three = await LookAsync();
        await new TaughtClass { PublishedAt = TaughtClass.LongAgo.AddDays(21) }.WriteAsync(Service);
        var four = await LookAsync();

        // All the same but that one more waits.
        Assert.Equal(two.GetRawText().Replace("\"waiting\":0", "\"waiting\":1", StringComparison.Ordinal), three.GetRawText());
        Assert.Equal(32, Tollens(four, "aldehyde").GetProperty("reports").GetInt32());
    }

    [Fact]
    public async Task NothingLearnedHangsOnWhatIsInsideAnOpenUnknown()
    {
        await new TaughtClass().WriteAsync(Service);
        await new TaughtClass().WriteAsync(Service);
        var open = await new TaughtClass
        {
            HandedOutAt = TaughtClass.LongAgo.AddDays(30),
            PublishedAt = null,
            Compounds = ["benzaldehyde", "pentan-3-one"],
        }.WriteAsync(Service);
        await new TaughtClass { PublishedAt = TaughtClass.LongAgo.AddDays(40) }.WriteAsync(Service);
        await new TaughtClass { PublishedAt = TaughtClass.LongAgo.AddDays(40) }.WriteAsync(Service);
        var told = await EverythingAsync();

        // The two compounds of the open course exchanged, one of them what the classes had and one what they had not; then both the one, then both another.
        await FillAsync(open, row => row.ParentKey == "benzaldehyde" ? "pentan-3-one" : "benzaldehyde");
        Assert.Equal(told, await EverythingAsync());
        foreach (var parent in new[] { "propanone", "acetophenone" })
        {
            await FillAsync(open, _ => parent);
            Assert.Equal(told, await EverythingAsync());
        }

        // It isn't because nothing is answered: two closed courses are, and two that were published while an unknown was open wait.
        var look = JsonElement.Parse(told[0]);
        Assert.Equal((2, 2), (look.GetProperty("courses").GetInt32(), look.GetProperty("waiting").GetInt32()));
        Assert.Equal("2025-07-01", look.GetProperty("openSince").GetString());
        Assert.Equal(0.05, Tollens(look, "any").GetProperty("learned").GetDouble(), 0.05);

        // Nor does what an open course reports, nor whether it opted in.
        await ChangeAsync(open, course => course.SetProperty(row => row.IsLearnedFrom, false));
        Assert.Equal(told, await EverythingAsync());
    }

    [Fact]
    public async Task CourseWaitsUntilWhatWasOpenBesideItIsPublished()
    {
        await new TaughtClass().WriteAsync(Service);
        await new TaughtClass { PublishedAt = TaughtClass.LongAgo.AddDays(15), IsPublishedAtKnown = false }.WriteAsync(Service);

        // From the same bottles, begun before the others were published, and in nobody's way: it opted in to nothing.
        var beside = await new TaughtClass { PublishedAt = null, IsLearnedFrom = false, HandedOutAt = TaughtClass.LongAgo.AddDays(1) }.WriteAsync(Service);
        var meanwhile = await LookAsync();
        await ChangeAsync(beside, course => course.SetProperty(row => row.ArchivedAtUtc, TaughtClass.LongAgo.AddDays(50)));
        var archived = await LookAsync();
        await ChangeAsync(beside, course => course.SetProperty(row => row.ArchivedAtUtc, (DateTime?)null));
        var again = await LookAsync();
        await ChangeAsync(beside, course => course.SetProperty(row => row.PublishedGradingId, "somewhere"));
        var published = await LookAsync();

        Assert.Equal((0, 0, 0), Counts(meanwhile));
        Assert.Equal(2, meanwhile.GetProperty("waiting").GetInt32());
        Assert.Equal((2, 0), (archived.GetProperty("courses").GetInt32(), archived.GetProperty("waiting").GetInt32()));
        Assert.Equal(meanwhile.GetRawText(), again.GetRawText());
        Assert.Equal(archived.GetRawText(), published.GetRawText());
    }

    [Fact]
    public async Task NothingOfAStudentOrACourseIsToldOrKept()
    {
        TaughtClass[] classes = [await new TaughtClass().WriteAsync(Service), await new TaughtClass().WriteAsync(Service)];
        var told = string.Join('\n', await EverythingAsync());
        await using var context = await ContextAsync();
        var kept = string.Join('\n', await context.ProposedRecords.Select(row => row.RecordKey + row.RecordJson).ToListAsync(Cancellation));
        var proposals = string.Join('\n', (await context.Proposals.ToListAsync(Cancellation)).Select(row => row.ToString()));

        Assert.Contains("students of 2 courses", kept, StringComparison.Ordinal);
        Assert.All(classes.SelectMany(one => one.Secrets), secret =>
            Assert.DoesNotContain(secret, told + kept + proposals, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task TenthOfWrongLabelsMovesNoRateBeyondItsInterval(bool isBottle)
    {
        string[] compounds = ["benzaldehyde", "4-chlorobenzaldehyde", "propanone", "cyclohexanone", "acetophenone"];
        var honest = new TaughtClass { Compounds = compounds, Tollens = student => student != 3 };
        TaughtClass[] classes = [await honest.WriteAsync(Service), await honest.WriteAsync(Service)];
        var right = await LookAsync();
        foreach (var one in classes)
        {
            await ChangeAsync(one, course => course.SetProperty(row => row.IsLearnedFrom, false));
        }

        // Of ten bottles one holds benzaldehyde where cyclohexanone is written, or of eight vials of each compound the one beside it does.
        var wrong = honest with
        {
            Inside = isBottle
                ? (label, _) => label == "cyclohexanone" ? "benzaldehyde" : label
                : (label, student) => student == 6 ? compounds[(Array.IndexOf(compounds, label) + 2) % compounds.Length] : label,
        };
        await wrong.WriteAsync(Service);
        await (isBottle ? honest : wrong).WriteAsync(Service);
        var mislabelled = await LookAsync();

        Assert.Equal(right.GetProperty("spotTests").GetArrayLength(), mislabelled.GetProperty("spotTests").GetArrayLength());
        Assert.All(right.GetProperty("spotTests").EnumerateArray().Zip(mislabelled.GetProperty("spotTests").EnumerateArray()), pair =>
        {
            Assert.Equal(pair.First.GetProperty("testKey").GetString(), pair.Second.GetProperty("testKey").GetString());
            Assert.InRange(pair.Second.GetProperty("learned").GetDouble(), pair.First.GetProperty("low").GetDouble(), pair.First.GetProperty("high").GetDouble());
        });
    }

    [Fact]
    public async Task ReleasedProposalChangesTheRankingAndIsUndone()
    {
        // Half of all aldehydes fail Tollens' test here, so a negative says less against one.
        var doubtful = new TaughtClass { Compounds = ["benzaldehyde", "4-chlorobenzaldehyde", "propanone", "cyclohexanone"], Tollens = student => student % 2 == 0 };
        await doubtful.WriteAsync(Service);
        await doubtful.WriteAsync(Service);
        var before = await BenzaldehydeAsync();
        var (id, tag) = await ProposeAsync();
        var records = (await Author.DifferencesAsync(id)).GetProperty("items").EnumerateArray().ToList();
        var rate = records.Single(record => record.GetProperty("table").GetString() == "spot-test-responses"
            && record.GetProperty("after").GetProperty("appliesTo").GetString() == "aldehyde" && record.GetProperty("key").GetString()!.StartsWith("tollens", StringComparison.Ordinal)).GetProperty("after");
        var measured = records.Single(record => record.GetProperty("key").GetString() == "benzaldehyde-semicarbazone-classes").GetProperty("after");
        var version = await Author.ReleaseAsync(id, tag, Reviewer);
        var after = await BenzaldehydeAsync();
        var again = await LookAsync();
        var (undo, undoTag) = await Author.MakeAsync("Back", restores: version - 1);
        await Author.ReleaseAsync(undo, undoTag, Reviewer);

        Assert.InRange(rate.GetProperty("positiveRate").GetDouble(), 0.5, 0.8);
        Assert.Contains("by 32 reports of 2 compounds in 2 courses", rate.GetProperty("note").GetString(), StringComparison.Ordinal);
        Assert.Contains("0.95 before", rate.GetProperty("note").GetString(), StringComparison.Ordinal);
        Assert.Equal("learned-from-classes", rate.GetProperty("sourceKey").GetString());
        Assert.Equal((16, "measured"), (measured.GetProperty("determinations").GetInt32(), measured.GetProperty("verification").GetString()));
        Assert.True(after > 2 * before, $"{before} before, {after} after");

        // What the table says already is not learned once more from the same reports, and the way back is whole.
        Assert.Equal(0, again.GetProperty("changes").GetInt32());
        Assert.Equal(before, await BenzaldehydeAsync());
        Assert.Equal(records.Count, (await LookAsync()).GetProperty("changes").GetInt32());
    }

    [Fact]
    public async Task WhatACourseTaughtThatOptsOutIsTakenBackByTheNextProposal()
    {
        TaughtClass[] classes = [await new TaughtClass().WriteAsync(Service), await new TaughtClass().WriteAsync(Service)];
        var (id, tag) = await ProposeAsync();
        var taught = (await Author.DifferencesAsync(id)).GetProperty("items").GetArrayLength();
        var version = await Author.ReleaseAsync(id, tag, Reviewer);
        using var nothing = await Author.Client.PostAsync(Learning, "{}");
        await ChangeAsync(classes[0], course => course.SetProperty(row => row.IsLearnedFrom, false));
        var (back, backTag) = await ProposeAsync();
        var released = await Author.ReleaseAsync(back, backTag, Reviewer);
        var differing = (await Author.Client.JsonAtAsync($"/api/v1/table-versions/{version - 1}/differences/{released}")).GetProperty("items").EnumerateArray().ToList();

        Assert.Equal("nothing-proposed", (await nothing.JsonAsync(HttpStatusCode.Conflict)).GetProperty("type").GetString()!.Split(':')[^1]);

        // All but the source, which stays to be cited again.
        Assert.True(taught > 10, $"{taught} records");
        Assert.All(differing, record => Assert.Equal("sources", record.GetProperty("table").GetString()));
    }

    [Fact]
    public async Task RequestThatCarriesAKeyMakesOneProposal()
    {
        await new TaughtClass().WriteAsync(Service);
        var second = await new TaughtClass().WriteAsync(Service);
        using var made = await Author.SendAsync(HttpMethod.Post, Learning, null, """{ "title": "Two classes" }""", "learned once");
        await ChangeAsync(second, course => course.SetProperty(row => row.IsLearnedFrom, false));
        using var again = await Author.SendAsync(HttpMethod.Post, Learning, null, """{ "title": "Two classes" }""", "learned once");
        using var other = await Author.SendAsync(HttpMethod.Post, Learning, null, """{ "title": "Other" }""", "learned once");
        var proposal = await made.JsonAsync(HttpStatusCode.Created);

        Assert.Equal("Two classes", proposal.GetProperty("title").GetString());
        Assert.Equal($"/api/v1/proposals/{proposal.GetProperty("id").GetString()}", made.Headers.Location!.ToString());
        Assert.Equal(proposal.GetRawText(), (await again.JsonAsync(HttpStatusCode.OK)).GetRawText());
        Assert.Equal(HttpStatusCode.UnprocessableEntity, other.StatusCode);
    }

    [Fact]
    public async Task OwnersSayWhetherTheTableLearnsAndStudentsSeeIt()
    {
        await using var room = await Classroom.OpenAsync(Service);
        await room.MakeAsync();
        await room.PutRosterAsync(4);
        await room.HandOutAsync();
        using var administrator = Service.ClientWith(ServiceUnderTest.AdministratorKey);
        using var colleague = await Service.ClientAsAsync(Role.Instructor);
        var staff = new JsonArray(
            Classroom.Member(await Classroom.ActorAsync(room.Instructor), isOwner: true), Classroom.Member(await Classroom.ActorAsync(room.Grader), isOwner: false),
            Classroom.Member(await Classroom.ActorAsync(colleague), isOwner: false));
        using var put = await room.PutAsync(room.Instructor, $"{room.Address}/staff", new JsonObject { ["staff"] = staff }.ToJsonString());
        await put.JsonAsync(HttpStatusCode.OK);
        var asDescribed = JsonNode.Parse(Classroom.Course)!.AsObject();
        asDescribed["isLearnedFrom"] = true;
        Assert.False((await room.Ann.JsonAtAsync(room.Address)).GetProperty("isLearnedFrom").GetBoolean());

        using var refused = await room.PutAsync(colleague, room.Address, asDescribed.ToJsonString());
        using var taken = await room.PutAsync(room.Instructor, room.Address, asDescribed.ToJsonString());
        using var kept = await room.PutAsync(colleague, room.Address, asDescribed.ToJsonString());
        var seen = (await room.Ann.JsonAtAsync(room.Address)).GetProperty("isLearnedFrom").GetBoolean();
        await room.HandInAsync(room.Ann, room.Report("ann", room.Answers["ann"]));
        await room.PublishAsync(await room.GradeAsync());
        using var withdrawn = await room.PutAsync(room.Instructor, room.Address, Classroom.Course);
        var acts = await Classroom.AllAsync(administrator, $"/api/v1/audit?resource=courses/{room.Id}");

        Assert.Contains("owners", (await refused.JsonAsync(HttpStatusCode.Forbidden)).GetProperty("detail").GetString(), StringComparison.Ordinal);
        await taken.JsonAsync(HttpStatusCode.OK);
        await kept.JsonAsync(HttpStatusCode.OK);
        Assert.True(seen);
        await withdrawn.JsonAsync(HttpStatusCode.OK);
        Assert.Equal(
            ["course.let-learn", "course.let-learn-no-more"],
            acts.Select(act => act.GetProperty("action").GetString()!).Where(act => act.StartsWith("course.let-learn", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        await using var context = await ContextAsync();
        Assert.Equal(ServiceUnderTest.Now.UtcDateTime, (await context.Courses.SingleAsync(row => row.Id == room.Id, Cancellation)).PublishedAtUtc);
    }

    private static (int Courses, int Rates, int Changes) Counts(JsonElement look) => (
        look.GetProperty("courses").GetInt32(),
        look.GetProperty("spotTests").GetArrayLength() + look.GetProperty("colours").GetArrayLength() + look.GetProperty("measured").GetArrayLength(),
        look.GetProperty("changes").GetInt32());

    private static JsonElement Tollens(JsonElement look, string appliesTo) => look.GetProperty("spotTests").EnumerateArray()
        .Single(rate => rate.GetProperty("testKey").GetString() == "tollens" && rate.GetProperty("appliesTo").GetString() == appliesTo);

    private Task<JsonElement> LookAsync() => Author.Client.JsonAtAsync(Learning);

    private async Task<(string Id, string Tag)> ProposeAsync()
    {
        using var response = await Author.Client.PostAsync(Learning, "{}");
        var proposal = await response.JsonAsync(HttpStatusCode.Created);
        return (proposal.GetProperty("id").GetString()!, response.Headers.ETag!.ToString());
    }

    /// <summary>Everything that learning answers: the look, the proposal and its records; without the proposal's own id and makers.</summary>
    private async Task<string[]> EverythingAsync()
    {
        var look = (await LookAsync()).GetRawText();
        using var response = await Author.Client.PostAsync(Learning, "{}");
        var proposal = await response.JsonAsync(HttpStatusCode.Created);
        var id = proposal.GetProperty("id").GetString()!;
        return
        [
            .. new[]
            {
                look,
                proposal.GetRawText(),
                (await Author.DifferencesAsync(id)).GetRawText(),
            }.Select(text => text.Replace(id, "", StringComparison.Ordinal)),
        ];
    }

    // A report that speaks for benzaldehyde and another aldehyde that melts near, but for Tollens' test.
    private async Task<double> BenzaldehydeAsync()
    {
        using var response = await Author.Client.PostAsync(
            "/api/v1/rankings",
            """
            { "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "236-238", "preparation": "recrystallised" }],
              "spotTests": [{ "test": "Tollens", "outcome": "negative" }], "prior": { "isUniform": true } }
            """);
        return (await response.JsonAsync(HttpStatusCode.OK)).GetProperty("candidates").EnumerateArray()
            .Single(candidate => candidate.GetProperty("key").GetString() == "benzaldehyde").GetProperty("posterior").GetDouble();
    }

    private async Task<DerividContext> ContextAsync() =>
        await Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(Cancellation);

    private async Task ChangeAsync(TaughtClass one, Action<Microsoft.EntityFrameworkCore.Query.UpdateSettersBuilder<Derivid.Store.Teaching.Course>> change)
    {
        await using var context = await ContextAsync();
        Assert.Equal(1, await context.Courses.Where(row => row.Id == one.Id).ExecuteUpdateAsync(change, Cancellation));
    }

    private async Task FillAsync(TaughtClass one, Func<Derivid.Store.Teaching.Assignment, string> inside)
    {
        await using var context = await ContextAsync();
        foreach (var row in await context.Assignments.AsNoTracking().Where(row => row.CourseId == one.Id).ToListAsync(Cancellation))
        {
            await context.Assignments.Where(each => each.Code == row.Code)
                .ExecuteUpdateAsync(update => update.SetProperty(each => each.ParentKey, inside(row)), Cancellation);
        }
    }

    public sealed class OnSqlite(SqliteService service) : LearningTests(service), IClassFixture<SqliteService>;

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : LearningTests(service), IClassFixture<PostgreSqlService>;
}

using System.Net;
using System.Net.Http.Headers;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Access;

/// <summary>
/// Every operation of the document that writes what its body says, with the body held open over a change: what is judged is what holds when the
/// last byte is here, so the answer is that to the same request sent afterwards. The same on both engines.
/// </summary>
/// <remarks>What it says in If-Match is the revision to come, so that nothing is refused for being stale.</remarks>
public abstract class HeldWritesTests(RunningService service)
{
    private const string Proposals = "/api/v1/proposals";
    private const string Plaid = """{ "key": "plaid", "name": "plaid", "synonyms": [] }""";
    private const string Proposed = $$"""{ "record": {{Plaid}} }""";
    private const string ReportsAreIn = "handOutUnknowns 409 urn:derivid:problem:course-state-forbids";
    private const string Nothing = "nothing happens";

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>What happens while bodies are on their way, and which writes it concerns.</summary>
    private static readonly Dictionary<string, (Func<Site, Task> Make, Func<HeldWrite, bool> Concerns)> Changes = new()
    {
        [Nothing] = (_ => Task.CompletedTask, _ => true),
        ["their senders' keys are revoked"] = (site => site.RevokeAsync(), _ => true),
        ["their sender leaves the staff"] = (
            async site => await site.PutAsync("/staff", StaffOf((await Classroom.ActorAsync(site.Room.Instructor), true))),
            write => write is { IsOfCourse: true, By: Sender.Deputy }),
        ["the course is archived"] = (
            async site =>
            {
                await site.Room.PublishAsync(site.Grading);
                await site.PutAsync("/archive", """{ "isArchived": true }""");
            },
            write => write.IsOfCourse),
        ["the proposals are given up"] = (
            async site =>
            {
                await Site.StepAsync(site.Deputy, site.Proposal, HttpMethod.Post, "withdrawal");
                await Site.StepAsync(site.Room.Instructor, site.Submitted, HttpMethod.Post, "withdrawal");
            },
            write => write.IsOfProposal),
        ["grades are published"] = (site => site.Room.PublishAsync(site.Grading), write => write.IsOfCourse),
    };

    public static TheoryData<string> Names => [.. Changes.Keys];

    private static readonly HeldWrite[] Writes =
    [
        new("makeCourse", Sender.Deputy, "POST", _ => Classroom.Courses, _ => Classroom.Course),
        new("makeReport", Sender.Ann, "POST", site => site.Room.Address + "/reports", site => site.Room.Report("ann", "acetone")) { IsOfCourse = true },
        new("changeReport", Sender.Ben, "PUT", site => $"{site.Room.Address}/reports/{site.Draft}", site => site.Room.Report("ben", "acetone")) { IsOfCourse = true, Tag = site => $"{site.Room.Address}/reports/{site.Draft}" },
        new("changeCourse", Sender.Deputy, "PUT", site => site.Room.Address, _ => Classroom.Course.Replace("\"mostAttempts\": 2", "\"mostAttempts\": 3", StringComparison.Ordinal)) { IsOfCourse = true, Tag = site => site.Room.Address },
        new("putStaff", Sender.Deputy, "PUT", site => site.Room.Address + "/staff", site => $$"""{ "staff": [{ "actor": "{{site.DeputyActor}}", "isOwner": true }] }""") { IsOfCourse = true, Tag = site => site.Room.Address },
        new("putRoster", Sender.Deputy, "PUT", site => site.Room.Address + "/roster", _ => """{ "students": [{ "student": "ann" }, { "student": "ben" }, { "student": "s3" }, { "student": "s4" }, { "student": "new" }] }""") { IsOfCourse = true, Tag = site => site.Room.Address },
        new("putExtensions", Sender.Deputy, "PUT", site => site.Room.Address + "/extensions", _ => """{ "extensions": [{ "student": "ann", "dueAt": "2026-03-15T12:00:00Z" }] }""") { IsOfCourse = true, Tag = site => site.Room.Address },
        new("giveStudentKeys", Sender.Deputy, "POST", site => site.Room.Address + "/keys", _ => """{ "students": ["s3"] }""") { IsOfCourse = true, Tag = site => site.Room.Address },
        new("handOutUnknowns", Sender.Deputy, "POST", site => site.Room.Address + "/hand-outs", _ => """{ "seed": "one more seed, long enough" }""") { IsOfCourse = true },
        new("gradeReports", Sender.Deputy, "POST", site => site.Room.Address + "/grades", _ => "{                                }") { IsOfCourse = true },
        new("publishGrades", Sender.Deputy, "PUT", site => site.Room.Address + "/publication", site => $$"""{ "grading": "{{site.Grading}}", "beforeDue": true }""") { IsOfCourse = true, Tag = site => site.Room.Address },
        new("moderateReport", Sender.Deputy, "POST", site => $"{site.Room.Address}/reports/{site.Report}/moderations", _ => """{ "reason": "Well argued, made up." }""") { IsOfCourse = true },
        new("archiveCourse", Sender.Deputy, "PUT", site => site.Room.Address + "/archive", _ => """{ "isArchived": true }""") { IsOfCourse = true, Tag = site => site.Room.Address },
        new("makeProposal", Sender.Deputy, "POST", _ => Proposals, _ => """{ "title": "Made up for a test" }"""),
        new("describeProposal", Sender.Deputy, "PUT", site => $"{Proposals}/" + site.Proposal, _ => """{ "title": "Made up, said otherwise" }""") { Tag = site => $"{Proposals}/" + site.Proposal },
        new("makeComment", Sender.Deputy, "POST", site => $"{Proposals}/{site.Proposal}/comments", _ => """{ "text": "Made up for a test" }"""),
        new("proposeRecord", Sender.Deputy, "PUT", site => $"{Proposals}/{site.Proposal}/records/colours/plaid", _ => Proposed) { Tag = site => $"{Proposals}/" + site.Proposal },
        new("startImport", Sender.Deputy, "POST", site => $"{Proposals}/{site.Proposal}/imports?table=colours&dryRun=true", _ => $"[{Plaid}]") { Tag = site => $"{Proposals}/" + site.Proposal },
        new("reviewProposal", Sender.Deputy, "POST", site => $"{Proposals}/{site.Submitted}/review", _ => """{ "verdict": "handBack", "note": "Made up for a test" }""") { Tag = site => $"{Proposals}/" + site.Submitted },
        new("makeKey", Sender.Administrator, "POST", _ => Requests.Keys, _ => """{ "name": "made up", "role": "administrator" }"""),
        new("registerThermometer", Sender.Deputy, "POST", _ => "/api/v1/thermometers", _ => """{ "name": "Made up for a test" }"""),
    ];

    /// <summary>Written by nobody in particular, or written of what takes a second person or a source to make first; each by the same way into the database.</summary>
    private static readonly string[] Others = ["describeStructure", "proposeLearned", "releaseProposal", "sendReadings", "calibrateThermometer"];

    [Fact]
    public void EveryWriteOfTheDocumentIsHeld()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(RepositoryFiles.At("src", "Derivid.Api", "openapi", "derivid.v1.json")));
        var found = document.RootElement.GetProperty("paths").EnumerateObject().SelectMany(path => path.Value.EnumerateObject())
            .Where(operation => operation.Value.ValueKind == JsonValueKind.Object && operation.Value.TryGetProperty("requestBody", out _)
                && !operation.Value.GetProperty("security").EnumerateArray().Any(one => !one.EnumerateObject().Any()))
            .Select(operation => operation.Value.GetProperty("operationId").GetString()!);

        Assert.Equal(found.Order(), Writes.Select(write => write.Operation).Concat(Others).Order());
    }

    [Theory]
    [MemberData(nameof(Names))]
    public async Task IsAnsweredAsIfItHadBeenSentAfterwards(string name)
    {
        var (change, concerns) = Changes[name];
        var writes = Writes.Where(concerns).ToList();
        await using var twin = await Site.MakeAsync(service.Service);
        var bodies = writes.ConvertAll(write => write.Body(twin));
        await change(twin);
        var (expected, tags) = (new List<string>(), new List<EntityTagHeaderValue?>());
        foreach (var (write, body) in writes.Zip(bodies))
        {
            tags.Add(await twin.TagAsync(write));
            using var message = MessageOf(twin, write, tags[^1]);
            message.Content = Requests.Json(body);
            using var response = await twin.SenderOf(write).SendAsync(message, Patience);
            expected.Add($"{write.Operation} {await OutcomeAsync(response)}");
        }

        // So that what is refused is refused for what happened.
        Assert.True(name != Nothing || expected.TrueForAll(outcome => outcome.Contains(" 2", StringComparison.Ordinal) || outcome == ReportsAreIn), string.Join('\n', expected));
        await using var site = await Site.MakeAsync(service.Service);
        var held = new List<(TaskCompletionSource Release, Task<HttpResponseMessage> Response)>();
        foreach (var (write, tag) in writes.Zip(tags))
        {
            var release = new TaskCompletionSource();
            held.Add((release, await service.Service.Held.SendAsync(site.SenderOf(write), MessageOf(site, write, tag), write.Body(site), release.Task)));
        }

        await change(site);
        var found = new List<string>();
        foreach (var ((release, answered), write) in held.Zip(writes))
        {
            release.SetResult();
            using var response = await answered;
            found.Add($"{write.Operation} {await OutcomeAsync(response)}");
        }

        Assert.Equal(expected, found);
    }

    private static HttpRequestMessage MessageOf(Site site, HeldWrite write, EntityTagHeaderValue? tag)
    {
        var message = new HttpRequestMessage(new HttpMethod(write.Method), write.Address(site));
        if (tag is not null)
        {
            message.Headers.IfMatch.Add(tag);
        }

        return message;
    }

    private static async Task<string> OutcomeAsync(HttpResponseMessage response)
    {
        var text = await response.Content.ReadAsStringAsync(Patience);
        return (int)response.StatusCode + (response.IsSuccessStatusCode ? "" : " " + JsonElement.Parse(text).GetProperty("type").GetString());
    }

    private static string StaffOf(params IEnumerable<(string Actor, bool IsOwner)> members) =>
        new JsonObject { ["staff"] = new JsonArray([.. members.Select(member => Classroom.Member(member.Actor, member.IsOwner))]) }.ToJsonString();

    /// <summary>Who sends something: an instructor, owner of the course too; a second administrator; a student.</summary>
    private enum Sender
    {
        Deputy,
        Administrator,
        Ann,
        Ben,
    }

    /// <summary>Something that is written, with all that it takes to be taken.</summary>
    private sealed record HeldWrite(string Operation, Sender By, string Method, Func<Site, string> Address, Func<Site, string> Body)
    {
        public bool IsOfCourse { get; init; }

        public bool IsOfProposal => Operation is "describeProposal" or "makeComment" or "proposeRecord" or "startImport" or "reviewProposal";

        public Func<Site, string>? Tag { get; init; }
    }

    /// <summary>A course with a report and a draft and two gradings, and proposals, of which each write finds what it needs.</summary>
    private sealed class Site : IAsyncDisposable
    {
        public required Classroom Room { get; init; }

        public required HttpClient Administrator { get; init; }

        public required HttpClient Deputy { get; init; }

        public required HttpClient Second { get; init; }

        public string DeputyActor { get; private set; } = "";

        public string Grading { get; private set; } = "";

        public string Report { get; private set; } = "";

        public string Draft { get; private set; } = "";

        public string Proposal { get; private set; } = "";

        public string Submitted { get; private set; } = "";

        public static async Task<Site> MakeAsync(ServiceUnderTest service)
        {
            var room = await Classroom.HandedOutAsync(service, others: 2);
            var deputy = await service.ClientAsAsync(Role.Instructor);
            var site = new Site { Room = room, Administrator = service.ClientWith(ServiceUnderTest.AdministratorKey), Deputy = deputy, Second = await service.ClientAsAsync(Role.Administrator) };
            await site.PutAsync("/staff", StaffOf(
                (await Classroom.ActorAsync(room.Instructor), true),
                (await Classroom.ActorAsync(room.Grader), false),
                (site.DeputyActor = await Classroom.ActorAsync(deputy), true)));
            site.Report = IdOf(await room.HandInAsync(room.Ann, room.Report("ann", "acetone")));
            site.Grading = await room.GradeAsync();
            site.Draft = IdOf(await room.HandInAsync(room.Ben, room.Report("ben", "acetone", isDraft: true)));
            site.Proposal = await ProposalAsync(deputy);
            site.Submitted = await ProposalAsync(room.Instructor);
            await StepAsync(room.Instructor, site.Submitted, HttpMethod.Put, "records/colours/plaid", Proposed);
            await StepAsync(room.Instructor, site.Submitted, HttpMethod.Post, "submission");
            return site;
        }

        public static async Task StepAsync(HttpClient author, string proposal, HttpMethod method, string beneath, string? json = null)
        {
            using var current = await author.GetAsync($"{Proposals}/{proposal}", Patience);
            using var step = new HttpRequestMessage(method, $"{Proposals}/{proposal}/{beneath}") { Content = json is null ? null : Requests.Json(json) };
            step.Headers.IfMatch.Add(current.Headers.ETag!);
            using var response = await author.SendAsync(step, Patience);
            Assert.True(response.IsSuccessStatusCode, await response.Content.ReadAsStringAsync(Patience));
        }

        public async Task RevokeAsync()
        {
            foreach (var client in new[] { Deputy, Second, Room.Ann, Room.Ben })
            {
                var key = (await Classroom.ActorAsync(client))["key:".Length..];
                using var revoked = await Administrator.DeleteAsync($"{Requests.Keys}/{key}", Patience);
                Assert.True(revoked.IsSuccessStatusCode, revoked.ToString());
            }
        }

        /// <summary>What a write has to say in If-Match, as somebody is told who may see it whatever has happened.</summary>
        public async Task<EntityTagHeaderValue?> TagAsync(HeldWrite write)
        {
            if (write.Tag is not { } address)
            {
                return null;
            }

            using var response = await Administrator.GetAsync(address(this), Patience);
            return response.Headers.ETag;
        }

        public HttpClient SenderOf(HeldWrite write) => write.By switch
        {
            Sender.Ann => Room.Ann,
            Sender.Ben => Room.Ben,
            Sender.Administrator => Second,
            _ => Deputy,
        };

        public async Task PutAsync(string beneath, string json)
        {
            using var put = await Room.PutAsync(Room.Instructor, Room.Address + beneath, json);
            Assert.True(put.IsSuccessStatusCode, await put.Content.ReadAsStringAsync(Patience));
        }

        private static string IdOf(JsonElement made) => made.GetProperty("id").GetString()!;

        private static async Task<string> ProposalAsync(HttpClient author)
        {
            using var made = await author.PostAsync(Proposals, """{ "title": "Made up for a test" }""");
            return IdOf(await made.JsonAsync(HttpStatusCode.Created));
        }

        public async ValueTask DisposeAsync()
        {
            Administrator.Dispose();
            Deputy.Dispose();
            Second.Dispose();
            await Room.DisposeAsync();
        }
    }

    public sealed class OnSqlite(SqliteService service) : HeldWritesTests(service);

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlService service) : HeldWritesTests(service), IClassFixture<PostgreSqlService>;
}

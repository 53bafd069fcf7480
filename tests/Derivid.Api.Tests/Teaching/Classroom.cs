using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests.Teaching;

/// <summary>A course in a running service, and the people around it. Readings are made up.</summary>
internal sealed class Classroom : IAsyncDisposable
{
    public const string Courses = "/api/v1/courses";
    public const string Seed = "a seed of the tests, long enough";

    /// <summary>Six compounds that the 2,4-dinitrophenylhydrazone and the semicarbazone tell apart.</summary>
    public const string Course =
        """
        {
          "name": "Organic practical",
          "shelfList": ["acetone", "2-butanone", "pentan-3-one", "cyclohexanone", "benzaldehyde", "acetophenone"],
          "derivativeKinds": ["2,4-DNPH", "semicarbazone"],
          "spotTests": ["Tollens", "iodoform"],
          "dueAt": "2026-03-14T12:00:00Z",
          "mostAttempts": 2
        }
        """;

    private readonly ServiceUnderTest _service;

    private Classroom(ServiceUnderTest service) => _service = service;

    public required HttpClient Instructor { get; init; }

    public required HttpClient Grader { get; init; }

    /// <summary>On the roster as ann, place 1.</summary>
    public required HttpClient Ann { get; init; }

    /// <summary>On the roster as ben, place 2.</summary>
    public required HttpClient Ben { get; init; }

    /// <summary>A student on no roster.</summary>
    public required HttpClient Stranger { get; init; }

    public required string AnnActor { get; init; }

    public required string BenActor { get; init; }

    public string Id { get; private set; } = "";

    public string Address => $"{Courses}/{Id}";

    /// <summary>The code of an unknown by student.</summary>
    public IReadOnlyDictionary<string, string> Codes { get; private set; } = new Dictionary<string, string>();

    /// <summary>What is inside, by student.</summary>
    public IReadOnlyDictionary<string, string> Answers { get; private set; } = new Dictionary<string, string>();

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    /// <summary>People with keys, but no course yet.</summary>
    public static async Task<Classroom> OpenAsync(ServiceUnderTest service)
    {
        var (ann, annActor) = await StudentAsync(service);
        var (ben, benActor) = await StudentAsync(service);
        return new Classroom(service)
        {
            Instructor = await service.ClientAsAsync(Role.Instructor),
            Grader = await service.ClientAsAsync(Role.Grader),
            Ann = ann,
            AnnActor = annActor,
            Ben = ben,
            BenActor = benActor,
            Stranger = await service.ClientAsAsync(Role.Student),
        };
    }

    /// <summary>A course with a roster of ann, ben and others, and unknowns handed out.</summary>
    public static async Task<Classroom> HandedOutAsync(ServiceUnderTest service, string course = Course, int others = 4)
    {
        var room = await OpenAsync(service);
        await room.MakeAsync(course);
        await room.PutRosterAsync(others);
        await room.HandOutAsync();
        return room;
    }

    public async Task MakeAsync(string course = Course)
    {
        using var made = await Instructor.PostAsync(Courses, course);
        Id = (await made.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString()!;
        var staff = new JsonArray(Member(await ActorAsync(Instructor), isOwner: true), Member(await ActorAsync(Grader), isOwner: false));
        using var put = await PutAsync(Instructor, $"{Address}/staff", new JsonObject { ["staff"] = staff }.ToJsonString());
        await put.JsonAsync(HttpStatusCode.OK);
    }

    /// <summary>Somebody as a staff names them.</summary>
    public static JsonObject Member(string actor, bool isOwner) => new() { ["actor"] = actor, ["isOwner"] = isOwner };

    /// <summary>Who a client calls the service as.</summary>
    public static async Task<string> ActorAsync(HttpClient client) =>
        (await client.JsonAtAsync("/api/v1/keys/current")).GetProperty("actor").GetString()!;

    public async Task PutRosterAsync(int others)
    {
        var students = new JsonArray(
            Student("ann", 1, AnnActor),
            Student("ben", 2, BenActor));
        for (var place = 3; place < 3 + others; place++)
        {
            students.Add(Student($"s{place}", place, null));
        }

        using var put = await PutAsync(Instructor, $"{Address}/roster?dropsStudents=true", new JsonObject { ["students"] = students }.ToJsonString());
        await put.JsonAsync(HttpStatusCode.OK);
    }

    /// <summary>Says who a student of the roster is when they call the service.</summary>
    public Task EnrolAsync(string student, string actor) => SayAsync("actor", (student, actor));

    /// <summary>Puts students of the roster into groups.</summary>
    public Task GroupAsync(params (string Student, string Group)[] students) => SayAsync("group", students);

    private async Task SayAsync(string member, params (string Student, string Value)[] said)
    {
        var roster = await Instructor.JsonAtAsync($"{Address}/roster");
        var students = JsonNode.Parse(roster.GetRawText())!["students"]!.AsArray();
        foreach (var (student, value) in said)
        {
            students.Single(each => (string)each!["student"]! == student)![member] = value;
        }

        using var put = await PutAsync(Instructor, $"{Address}/roster?dropsStudents=true", new JsonObject { ["students"] = students.DeepClone() }.ToJsonString());
        await put.JsonAsync(HttpStatusCode.OK);
    }

    public async Task<JsonElement> HandOutAsync(string? seed = Seed)
    {
        using var handedOut = await Instructor.PostAsync(
            $"{Address}/hand-outs", seed is null ? "{}" : $$"""{ "seed": "{{seed}}" }""");
        var handOut = await handedOut.JsonAsync(HttpStatusCode.Created);
        var rows = await AllAsync(Instructor, $"{Address}/assignments?identities=true&limit=500");
        Codes = rows.ToDictionary(row => row.GetProperty("student").GetString()!, row => row.GetProperty("code").GetString()!);
        Answers = rows.ToDictionary(row => row.GetProperty("student").GetString()!, row => row.GetProperty("parent").GetString()!);
        return handOut;
    }

    /// <summary>Every item of a list, page by page.</summary>
    public static async Task<List<JsonElement>> AllAsync(HttpClient client, string address)
    {
        var items = new List<JsonElement>();
        for (string? next = address; next is not null;)
        {
            var page = await client.JsonAtAsync(next);
            items.AddRange(page.GetProperty("items").EnumerateArray());
            next = page.TryGetProperty("next", out var link) ? link.GetString() : null;
        }

        return items;
    }

    /// <summary>A report with one range.</summary>
    public string Report(string student, string claim, string range = "125-127 °C", bool isDraft = false) =>
        $$"""
        {
          "assignment": "{{Codes[student]}}",
          "observation": {
            "derivatives": [
              { "kind": "2,4-DNPH", "meltingRange": "117-123 °C", "preparation": "crude", "colour": "yellow" },
              { "kind": "2,4-DNPH", "meltingRange": "{{range}}", "preparation": "recrystallised" }
            ],
            "spotTests": [{ "test": "iodoform", "outcome": "positive" }, { "test": "Tollens", "outcome": "negative" }]
          },
          "claimedParent": "{{claim}}",
          "reasoning": "It melts there.",
          "isDraft": {{(isDraft ? "true" : "false")}}
        }
        """;

    /// <summary>Hands in a report, which must be taken.</summary>
    public async Task<JsonElement> HandInAsync(HttpClient client, string report)
    {
        using var response = await client.PostAsync($"{Address}/reports", report);
        return await response.JsonAsync(HttpStatusCode.Created);
    }

    /// <summary>Grades and waits until it is done.</summary>
    public async Task<string> GradeAsync(string request = "{}", string? idempotencyKey = null)
    {
        using var message = new HttpRequestMessage(HttpMethod.Post, $"{Address}/grades") { Content = Requests.Json(request) };
        message.Headers.Accept.Add(new MediaTypeWithQualityHeaderValue("application/x-ndjson"));
        if (idempotencyKey is not null)
        {
            message.Headers.Add("Idempotency-Key", idempotencyKey);
        }

        using var response = await Grader.SendAsync(message, Patience);
        var text = await response.Content.ReadAsStringAsync(Patience);
        Assert.True(response.StatusCode == HttpStatusCode.Accepted, text);
        var last = JsonElement.Parse(text.TrimEnd().Split('\n')[^1]);
        Assert.Equal("finished", last.GetProperty("state").GetString());
        Assert.Equal(last.GetProperty("total").GetInt32(), last.GetProperty("done").GetInt32());
        return last.GetProperty("id").GetString()!;
    }

    public async Task PublishAsync(string grading)
    {
        using var published = await PutAsync(Instructor, $"{Address}/publication", $$"""{ "grading": "{{grading}}", "beforeDue": true }""");
        await published.JsonAsync(HttpStatusCode.OK);
    }

    /// <summary>Puts with the ETag that the course, or the thing itself, has now.</summary>
    public async Task<HttpResponseMessage> PutAsync(HttpClient client, string address, string json, string mediaType = "application/json")
    {
        var tagged = address.Contains("/reports/", StringComparison.Ordinal) ? address : Address;
        using var current = await client.GetAsync(tagged, Patience);
        using var request = new HttpRequestMessage(HttpMethod.Put, address)
        {
            Content = new StringContent(json, Encoding.UTF8, mediaType),
        };
        request.Headers.IfMatch.Add(current.Headers.ETag!);
        return await client.SendAsync(request, Patience);
    }

    public static async Task<string> CsvAtAsync(HttpClient client, string address)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, address);
        request.Headers.Accept.Add(new MediaTypeWithQualityHeaderValue("text/csv"));
        using var response = await client.SendAsync(request, Patience);
        Assert.Equal("text/csv", response.Content.Headers.ContentType?.MediaType);
        return await response.Content.ReadAsStringAsync(Patience);
    }

    public ServiceUnderTest Service => _service;

    public ValueTask DisposeAsync()
    {
        foreach (var client in new[] { Instructor, Grader, Ann, Ben, Stranger })
        {
            client.Dispose();
        }

        return ValueTask.CompletedTask;
    }

    private static async Task<(HttpClient Client, string Actor)> StudentAsync(ServiceUnderTest service)
    {
        var client = await service.ClientAsAsync(Role.Student);
        return (client, (await client.JsonAtAsync("/api/v1/keys/current")).GetProperty("actor").GetString()!);
    }

    private static JsonObject Student(string key, int place, string? actor)
    {
        var student = new JsonObject { ["student"] = key, ["bench"] = "1", ["place"] = place };
        if (actor is not null)
        {
            student["actor"] = actor;
        }

        return student;
    }
}

using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Every body a course takes, with every value in it replaced by every sort of wrong one: never our fault.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class HostileTeachingTests(PostgreSqlService service) : IClassFixture<PostgreSqlService>
{
    private static readonly string[] Wrong =
    [
        "null", "true", "-1", "0", "1e400", "1.5", "999999999999999999999", "\"\"", "\" \"", "\"\\u0000\"", "\"\\ud800\"", "\"é\\u202e=1+1\"",
        "[]", "[null]", "[[]]", "{}", "{\"points\":-1}", "\"x\"", "\"0000000000000000\"", "\"9NB4-JRTT\"",
    ];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task EveryWrongBodyIsTheSendersFault()
    {
        await using var room = await Classroom.HandedOutAsync(service.Service);
        var draft = await room.HandInAsync(room.Ann, room.Report("ann", "acetone", isDraft: true));
        (string Method, string Address, string Body)[] writes =
        [
            ("POST", Classroom.Courses, (await ExampleFiles.ReadAsync("changeCourse.request"))!),
            ("PUT", room.Address, (await ExampleFiles.ReadAsync("changeCourse.request"))!),
            ("PUT", room.Address + "/roster", (await ExampleFiles.ReadAsync("putRoster.request"))!),
            ("POST", room.Address + "/hand-outs", (await ExampleFiles.ReadAsync("handOutUnknowns.request"))!),
            ("POST", room.Address + "/reports", room.Report("ben", "acetone")),
            ("PUT", $"{room.Address}/reports/{draft.GetProperty("id").GetString()}", room.Report("ann", "acetone", isDraft: true)),
            ("POST", room.Address + "/grades", """{ "reports": ["0f1e2d3c4b5a6978"], "students": ["ann"], "tableVersion": 1, "rubric": { "name": "R", "rightCompound": { "points": 1 } } }"""),
            ("PUT", room.Address + "/publication", (await ExampleFiles.ReadAsync("publishGrades.request"))!),
        ];
        var sent = 0;
        foreach (var (method, address, body) in writes)
        {
            foreach (var hostile in Mutated(body))
            {
                await AssertNotOursAsync(room, method, address, hostile, "application/json");
                sent++;
            }
        }

        TestContext.Current.SendDiagnosticMessage($"{sent} wrong bodies sent to courses.");
        Assert.True(sent > 1000, $"{sent}");
    }

    [Theory]
    [InlineData("student\n\0\n")]
    [InlineData("student,bench\na,\0\n")]
    [InlineData("student,actor\na,key:\0\n")]
    [InlineData("student,neighbours\na,\0\n")]
    [InlineData("student,place\na,99999999999999\n")]
    [InlineData("student\n\"a\n")]
    [InlineData("\"\n\"\"\"\n,,,,\n")]
    [InlineData("student;student\na;b\n")]
    [InlineData("\uFEFF\uFEFFstudent\na\n")]
    public async Task EveryWrongFileIsTheSendersFault(string csv)
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        await AssertNotOursAsync(room, "PUT", room.Address + "/roster", csv, "text/csv");
    }

    [Fact]
    public async Task CellOfAMegabyteIsTheSendersFault()
    {
        await using var room = await Classroom.OpenAsync(service.Service);
        await room.MakeAsync();

        await AssertNotOursAsync(room, "PUT", room.Address + "/roster", "student\n" + new string('a', 1_000_000), "text/csv");
    }

    private static async Task AssertNotOursAsync(Classroom room, string method, string address, string body, string mediaType)
    {
        using var request = new HttpRequestMessage(new HttpMethod(method), address)
        {
            Content = new StringContent(body, Encoding.UTF8, mediaType),
        };
        if (method == "PUT")
        {
            var tagged = address.Contains("/reports/", StringComparison.Ordinal) ? address : room.Address;
            using var current = await room.Instructor.GetAsync(tagged, Patience);
            request.Headers.IfMatch.Add(current.Headers.ETag ?? new EntityTagHeaderValue("\"1\""));
        }

        using var response = await room.Instructor.SendAsync(request, Patience);
        Assert.True((int)response.StatusCode < 500, $"{(int)response.StatusCode} {method} {address}\n{body[..Math.Min(body.Length, 2000)]}");
        if ((int)response.StatusCode >= 400)
        {
            await response.AnyProblemAsync();
        }
    }

    /// <summary>The body with each of its values replaced by each wrong one, or taken away.</summary>
    private static IEnumerable<string> Mutated(string body)
    {
        var count = Places(JsonNode.Parse(body)!).Count();
        for (var place = 0; place < count; place++)
        {
            foreach (var wrong in Wrong)
            {
                var marker = $"\"@@{place}\"";
                var copy = JsonNode.Parse(body)!;
                Replace(Places(copy).ElementAt(place), $"@@{place}");
                yield return copy.ToJsonString().Replace(marker, wrong, StringComparison.Ordinal);
            }

            var without = JsonNode.Parse(body)!;
            Remove(Places(without).ElementAt(place));
            yield return without.ToJsonString();
        }
    }

    private static IEnumerable<JsonNode> Places(JsonNode node)
    {
        var children = node switch
        {
            JsonObject many => many.Select(property => property.Value!),
            JsonArray list => list.Select(item => item!),
            _ => [],
        };
        foreach (var child in children)
        {
            yield return child;
            foreach (var inner in Places(child))
            {
                yield return inner;
            }
        }
    }

    private static void Replace(JsonNode node, string marker) => node.ReplaceWith(marker);

    private static void Remove(JsonNode node)
    {
        if (node.Parent is JsonObject many)
        {
            many.Remove(node.GetPropertyName());
        }
        else
        {
            ((JsonArray)node.Parent!).Remove(node);
        }
    }
}

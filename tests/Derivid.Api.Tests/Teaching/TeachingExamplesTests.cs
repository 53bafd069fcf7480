using System.IO.Compression;
using System.Net.Http.Headers;
using System.Text.Json.Nodes;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store;
using Derivid.Store.Access;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Teaching;

/// <summary>The examples of teaching tell one course from its making to its grades, and the service plays it as told.</summary>
/// <remarks>With DERIVID_RESEAL=1 in the environment the answers are written; the requests are written by hand.</remarks>
public sealed class TeachingExamplesTests : IAsyncLifetime
{
    private readonly SqliteDatabase _database = new();
    private readonly Dictionary<string, string> _real = new(StringComparer.Ordinal);
    private ServiceUnderTest? _service;
    private HttpClient? _instructor;
    private HttpClient? _student;

    /// <summary>The operations told.</summary>
    public static IReadOnlyList<string> Operations { get; } =
    [
        "getRubricSchema", "makeCourse", "listCourses", "getCourse", "changeCourse", "putStaff", "getStaff", "putRoster", "getRoster", "putExtensions", "getExtensions", "giveStudentKeys", "checkShelf",
        "handOutUnknowns", "getHandOut", "listAssignments", "printLabels", "getFillingList", "makeReport", "getReport", "changeReport", "listReports",
        "rankReport", "gradeReports", "listGradings", "getGrading", "compareGradings", "moderateReport", "listModerations", "publishGrades", "listGrades", "getGradebook", "exportOneRoster", "overviewCourse", "archiveCourse", "deleteCourse",
    ];

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _service = ExampleTable.NewService(_database.ConnectionString);
        (await _service.StartAsync()).Dispose();
        _instructor = await _service.ClientAsAsync(Role.Instructor);
        _student = await _service.ClientAsAsync(Role.Student);
        _real["actor"] = await Classroom.ActorAsync(_student);
        _real["owner"] = await Classroom.ActorAsync(_instructor);
    }

    public async ValueTask DisposeAsync()
    {
        _instructor!.Dispose();
        _student!.Dispose();
        await _service!.DisposeAsync();
        await _database.DisposeAsync();
    }

    [Fact]
    public async Task ServicePlaysTheCourseAsTold()
    {
        var told = new List<string>();
        var document = await _instructor!.JsonAtAsync("/swagger/v1/swagger.json");
        foreach (var operation in Operations)
        {
            var (method, path) = ExampleFiles.Find(document, operation);
            var answer = await PlayAsync(operation, method, path);
            told.Add(operation);
            await CompareAsync(operation, answer);
        }

        Assert.Equal(Operations, told);
    }

    private static async Task CompareAsync(string operation, string answer)
    {
        var isPage = operation is "printLabels" or "exportOneRoster";
        var file = ExampleFiles.InFolder("examples", $"{operation}.reply.{(isPage ? "txt" : "json")}");
        var told = isPage ? answer : ExampleFiles.Indented(answer);
        if (ExampleFiles.IsResealing)
        {
            await ExampleFiles.SealAsync(operation, Path.GetFileName(file), told);
        }

        var example = await File.ReadAllTextAsync(file, Patience);
        Assert.True(ExampleFiles.Fits(operation, example, told), $"{example}\nis not what is answered:\n{told}");
    }

    private async Task<string> PlayAsync(string operation, string method, string path)
    {
        var isStudent = operation is "listAssignments" or "makeReport" or "changeReport" or "getReport" or "listReports"
            or "rankReport" or "listGrades";
        var query = await ExampleFiles.ReadAsync($"{operation}.parameters") is { } parameters
            ? "?" + string.Join('&', JsonNode.Parse(parameters)!.AsObject().Select(each => $"{each.Key}={Uri.EscapeDataString($"{each.Value}")}"))
            : "";
        using var request = new HttpRequestMessage(new HttpMethod(method), Filled(path) + query);
        if (await ExampleFiles.ReadAsync($"{operation}.request") is { } body)
        {
            request.Content = Requests.Json(body
                .Replace("key:0f1e2d3c4b5a6978", _real["actor"], StringComparison.Ordinal)
                .Replace("key:a1b2c3d4e5f60718", _real["owner"], StringComparison.Ordinal)
                .Replace("0f1e2d3c4b5a6978", _real.GetValueOrDefault("gradingId", ""), StringComparison.Ordinal));
        }

        if (method is "put" or "delete" || operation == "giveStudentKeys")
        {
            request.Headers.IfMatch.Add(EntityTagHeaderValue.Parse(_real[operation == "changeReport" ? "report" : "course"]));
        }

        var client = isStudent ? _student! : _instructor!;
        using var response = await client.SendAsync(request, Patience);
        var text = operation == "exportOneRoster"
            ? $"PK… (a ZIP archive: {string.Join(", ", NamesIn(await response.Content.ReadAsStreamAsync(Patience)))})\n"
            : await response.Content.ReadAsStringAsync(Patience);
        Assert.True(response.IsSuccessStatusCode, $"{operation}: {text}");
        await RememberAsync(operation, response, text);

        // How far a grading is when its start is answered is a matter of chance.
        return operation == "gradeReports" ? text.Replace("\"done\":1", "\"done\":0", StringComparison.Ordinal) : text;
    }

    private string Filled(string path) => path
        .Replace("{id}", _real.GetValueOrDefault("id"), StringComparison.Ordinal)
        .Replace("{reportId}", _real.GetValueOrDefault("reportId"), StringComparison.Ordinal)
        .Replace("{gradingId}", _real.GetValueOrDefault("gradingId"), StringComparison.Ordinal)
        .Replace("{otherId}", _real.GetValueOrDefault("otherId"), StringComparison.Ordinal)
        .Replace("{number}", "1", StringComparison.Ordinal);

    private async Task RememberAsync(string operation, HttpResponseMessage response, string text)
    {
        switch (operation)
        {
            case "makeCourse":
                _real["id"] = IdIn(text);
                await KeepSecretAsync(_real["id"]);
                break;
            case "makeReport":
                _real["reportId"] = IdIn(text);
                _real["report"] = response.Headers.ETag!.ToString();
                break;
            case "gradeReports":
                _real["gradingId"] = IdIn(text);
                await FinishedAsync(_real["gradingId"]);
                break;
            case "getGrading":
                _real["otherId"] = await SecondGradingAsync();
                break;
            default:
                break;
        }

        if (operation != "deleteCourse" && _real.TryGetValue("id", out var id))
        {
            using var course = await _instructor!.GetAsync($"{Classroom.Courses}/{id}", Patience);
            _real["course"] = course.Headers.ETag!.ToString();
        }
    }

    // The secret of this course, so that the codes told are those drawn.
    private async Task KeepSecretAsync(string course)
    {
        await using var context = await _service!.Services.GetRequiredService<IDbContextFactory<DerividContext>>().CreateDbContextAsync(Patience);
        context.ServerSecrets.Add(new ServerSecret
        {
            Name = ServerSecrets.HandOutsOf(course),
            Value = Convert.ToBase64String(new byte[HandOutSeed.SecretLength]),
            CreatedAtUtc = new DateTime(2026, 3, 14, 9, 26, 53, DateTimeKind.Utc),
        });
        await context.SaveChangesAsync(Patience);
    }

    private async Task<string> SecondGradingAsync()
    {
        using var started = await _instructor!.PostAsync(
            $"{Classroom.Courses}/{_real["id"]}/grades",
            """{ "rubric": { "name": "Compound only", "rightCompound": { "points": 10 } } }""");
        var id = IdIn(await started.Content.ReadAsStringAsync(Patience));
        await FinishedAsync(id);
        return id;
    }

    private async Task FinishedAsync(string grading)
    {
        while ((await _instructor!.JsonAtAsync($"{Classroom.Courses}/{_real["id"]}/gradings/{grading}"))
            .GetProperty("state").GetString() != "finished")
        {
            await Task.Delay(20, Patience);
        }
    }

    private static List<string> NamesIn(Stream zip)
    {
        using var archive = new ZipArchive(zip);
        return [.. archive.Entries.Select(entry => entry.FullName)];
    }

    private static string IdIn(string json) => (string)JsonNode.Parse(json)!["id"]!;
}

using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Net.Sockets;
using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Store;
using Derivid.Store.Teaching;
using Derivid.Testing;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Teaching;

/// <summary>Two thousand reports in one call, and a grading whose process is killed. On PostgreSQL.</summary>
[Trait("Database", "PostgreSQL")]
[Collection(nameof(Alone))]
public sealed class GradingTests(PostgreSqlServer server)
{
    private const int Reports = 2000;

    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(10);

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task TwoThousandReportsAreGradedInOneCallWithProgressAndAgainWithoutChange()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = new ServiceUnderTest(database.ConnectionString);
        (await service.StartAsync()).Dispose();
        await using var room = await FilledAsync(service);

        var started = Stopwatch.GetTimestamp();
        var lines = await LinesAsync(room.Grader, room.Address, "friday", CancellationToken.None).ToListAsync(Patience);
        var elapsed = Stopwatch.GetElapsedTime(started);
        var before = await GradesAsync(service);
        var again = await LinesAsync(room.Grader, room.Address, "friday", CancellationToken.None).ToListAsync(Patience);

        TestContext.Current.SendDiagnosticMessage(FormattableString.Invariant(
            $"{Reports} reports graded in {elapsed.TotalSeconds:0.00} s, {lines.Count} lines of progress."));
        Assert.True(elapsed < Longest, $"{elapsed}");
        Assert.True(lines.Count > 2, $"{lines.Count} lines");
        Assert.Equal(lines.Select(line => line.Done).Order(), lines.Select(line => line.Done));
        Assert.Equal(new GradingProgress(lines[0].Id, GradingState.Finished, Reports, Reports), lines[^1]);
        Assert.Equal([lines[^1]], again);
        Assert.Equal(Reports, before.Count);
        Assert.Equal(before, await GradesAsync(service));
    }

    [Fact]
    public async Task KilledGradingIsTakenUpWithNoGradeLostAndNoneTwice()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = new ServiceUnderTest(database.ConnectionString);
        (await service.StartAsync()).Dispose();
        await using var room = await FilledAsync(service);
        var token = room.Grader.DefaultRequestHeaders.Authorization!;
        await service.DisposeAsync();

        var first = await RunningProcess.StartAsync(database.ConnectionString, token);
        var seen = 0;
        await foreach (var line in LinesAsync(first.Client, room.Address, "friday", CancellationToken.None))
        {
            seen = line.Done;
            if (line.Done > 0)
            {
                break;
            }
        }

        first.Kill();
        Assert.InRange(seen, 1, Reports - 1);

        await using var second = await RunningProcess.StartAsync(database.ConnectionString, token);
        var lines = await LinesAsync(second.Client, room.Address, "friday", CancellationToken.None).ToListAsync(Patience);

        Assert.Equal((GradingState.Finished, Reports), (lines[^1].State, lines[^1].Done));
        await using var context = NewContext(database.ConnectionString);
        Assert.Equal(Reports, await context.CourseGrades.CountAsync(Patience));
        Assert.Equal(Reports, await context.CourseGrades.Select(grade => grade.ReportId).Distinct().CountAsync(Patience));
        Assert.Equal(1, await context.Gradings.CountAsync(Patience));
        Assert.Equal(1, await context.AuditEntries.CountAsync(entry => entry.Action == "grading.finish", Patience));
    }

    private static DerividContext NewContext(string connectionString)
    {
        var options = new DbContextOptionsBuilder<DerividContext>();
        new Store.PostgreSql.PostgreSqlEngine(connectionString).Configure(options);
        return new DerividContext(options.Options, TableLayout.Standard);
    }

    /// <summary>A course of two thousand students with a report each.</summary>
    [Theory]
    [InlineData("gradeReports")]
    [InlineData("getGrading")]
    public async Task LinesOfProgressInTheDocumentAreWhatIsSent(string operation)
    {
        var example = await File.ReadAllTextAsync(ExampleFiles.InFolder($"examples/{operation}.reply.ndjson"), Patience);
        var lines = example.TrimEnd('\n').Split('\n')
            .Select(line => JsonSerializer.Deserialize(line, WireJson.Context.GradingProgress)!).ToList();

        Assert.Equal(example, string.Concat(lines.Select(line => JsonSerializer.Serialize(line, WireJson.Context.GradingProgress) + "\n")));
        Assert.Equal(GradingState.Finished, lines[^1].State);
    }

    private static async Task<Classroom> FilledAsync(ServiceUnderTest service)
    {
        var room = await Classroom.HandedOutAsync(service, others: Reports - 2);
        var contexts = service.Services.GetRequiredService<IDbContextFactory<DerividContext>>();
        await using var context = await contexts.CreateDbContextAsync(Patience);
        await room.HandInAsync(room.Ann, room.Report("ann", "acetone"));
        var body = (await context.CourseReports.AsNoTracking().SingleAsync(Patience)).BodyJson;
        context.CourseReports.AddRange(room.Codes.Keys.Where(student => student != "ann").Select((student, i) => new CourseReport
        {
            Id = i.ToString("x16", CultureInfo.InvariantCulture),
            CourseId = room.Id,
            HandOutNumber = 1,
            StudentKey = student,
            Number = 1,
            Attempt = 1,
            BodyJson = body,
            CreatedAtUtc = ServiceUnderTest.Now.UtcDateTime,
            HandedInAtUtc = ServiceUnderTest.Now.UtcDateTime,
            Revision = 1,
        }));
        await context.SaveChangesAsync(Patience);
        return room;
    }

    private static async Task<List<CourseGrade>> GradesAsync(ServiceUnderTest service)
    {
        var contexts = service.Services.GetRequiredService<IDbContextFactory<DerividContext>>();
        await using var context = await contexts.CreateDbContextAsync(Patience);
        return await context.CourseGrades.AsNoTracking().OrderBy(grade => grade.ReportId).ToListAsync(Patience);
    }

    private static async IAsyncEnumerable<GradingProgress> LinesAsync(
        HttpClient client,
        string course,
        string idempotencyKey,
        [System.Runtime.CompilerServices.EnumeratorCancellation] CancellationToken cancellation)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, $"{course}/grades") { Content = Requests.Json("{}") };
        request.Headers.Accept.Add(new MediaTypeWithQualityHeaderValue("application/x-ndjson"));
        request.Headers.Add("Idempotency-Key", idempotencyKey);
        using var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, cancellation);
        Assert.Equal(HttpStatusCode.Accepted, response.StatusCode);
        using var reader = new StreamReader(await response.Content.ReadAsStreamAsync(cancellation));
        while (await reader.ReadLineAsync(cancellation) is { } line)
        {
            yield return JsonSerializer.Deserialize(line, WireJson.Context.GradingProgress)!;
        }
    }

    /// <summary>The service as a process of its own, which can be killed.</summary>
    private sealed class RunningProcess : IAsyncDisposable
    {
        private readonly Process _process;

        private RunningProcess(Process process, HttpClient client) => (_process, Client) = (process, client);

        public HttpClient Client { get; }

        public static async Task<RunningProcess> StartAsync(string connectionString, AuthenticationHeaderValue token)
        {
            var address = $"http://127.0.0.1:{FreePort()}";
            var start = new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location])
            {
                RedirectStandardOutput = true,
                RedirectStandardError = true,
                WorkingDirectory = AppContext.BaseDirectory,
            };
            start.Environment["ConnectionStrings__Derivid"] = connectionString;
            start.Environment["ASPNETCORE_URLS"] = address;
            var process = Process.Start(start)!;
            process.OutputDataReceived += (_, _) => { };
            process.ErrorDataReceived += (_, _) => { };
            process.BeginOutputReadLine();
            process.BeginErrorReadLine();
            var client = new HttpClient { BaseAddress = new Uri(address), Timeout = TimeSpan.FromMinutes(2) };
            client.DefaultRequestHeaders.Authorization = token;
            var running = new RunningProcess(process, client);
            await running.WaitAsync();
            return running;
        }

        /// <summary>As a power cut would.</summary>
        public void Kill()
        {
            _process.Kill();
            _process.WaitForExit();
            _process.Dispose();
            Client.Dispose();
        }

        public ValueTask DisposeAsync()
        {
            Kill();
            return ValueTask.CompletedTask;
        }

        private async Task WaitAsync()
        {
            using var patience = CancellationTokenSource.CreateLinkedTokenSource(Patience);
            patience.CancelAfter(TimeSpan.FromMinutes(1));
            while (true)
            {
                try
                {
                    using var response = await Client.GetAsync("/health/ready", patience.Token);
                    if (response.IsSuccessStatusCode)
                    {
                        return;
                    }
                }
                catch (HttpRequestException)
                {
                    // It does not listen yet.
                }

                await Task.Delay(50, patience.Token);
            }
        }

        private static int FreePort()
        {
            using var listener = new TcpListener(IPAddress.Loopback, 0);
            listener.Start();
            return ((IPEndPoint)listener.LocalEndpoint).Port;
        }
    }
}

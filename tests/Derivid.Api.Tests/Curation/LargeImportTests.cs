using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Derivid.Testing;
using Npgsql;

namespace Derivid.Api.Tests.Curation;

/// <summary>Fifty thousand records, taken by the service in a process of its own, which is also killed half-way.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class LargeImportTests(PostgreSqlServer server) : IDisposable
{
    private const int Records = 50_000;
    private const double MostSeconds = 60;
    private const double MostMegabytes = 400;
    private const string Query = "table=derivatives&dryRun=false";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-import-");

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task FiftyThousandRecordsAreTakenInTimeAndMemory()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = await StartAsync(database.ConnectionString);
        var curator = CuratorOf(service);
        var (id, tag) = await curator.MakeAsync();
        var file = await FileAsync(curator);

        var clock = Stopwatch.StartNew();
        var job = await curator.ImportedAsync(id, tag, Query, file);
        var (seconds, megabytes) = (clock.Elapsed.TotalSeconds, service.PeakMegabytes);

        TestContext.Current.SendDiagnosticMessage("{0} records in {1:0.0} s, {2:0} MB at most.", Records, seconds, megabytes);
        Assert.Equal(("succeeded", Records), (job.GetProperty("state").GetString(), job.GetProperty("added").GetInt32()));
        Assert.Equal(Records, await KeptAsync(database.ConnectionString, id));
        Assert.InRange(seconds, 0, MostSeconds);
        Assert.InRange(megabytes, 0, MostMegabytes);
    }

    [Fact]
    public async Task KilledHalfWayNothingIsTakenAndTheImportSaysSoAfterARestart()
    {
        await using var database = await server.NewDatabaseAsync();
        string id, tag, import;
        await using (var service = await StartAsync(database.ConnectionString))
        {
            var curator = CuratorOf(service);
            (id, tag) = await curator.MakeAsync();
            using var started = await curator.ImportAsync(id, tag, Query, await FileAsync(curator));
            import = (await started.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!;
            await WritingAsync(curator, import);
        }

        await using var later = await StartAsync(database.ConnectionString);
        var after = CuratorOf(later);
        var job = await after.EndedAsync(import);

        Assert.Equal("interrupted", job.GetProperty("state").GetString());
        Assert.Contains("send the file again", job.GetProperty("message").GetString(), StringComparison.Ordinal);
        Assert.Equal(tag, await after.TagAsync(id));
        Assert.Equal(0, await KeptAsync(database.ConnectionString, id));
    }

    [Fact]
    public async Task ToldToStopHalfWayItSaysInterruptedAndNotThatSomebodyCalledItOff()
    {
        await using var database = await server.NewDatabaseAsync();
        string import;
        await using (var service = await StartAsync(database.ConnectionString))
        {
            var curator = CuratorOf(service);
            var (id, tag) = await curator.MakeAsync();
            using var started = await curator.ImportAsync(id, tag, Query, await FileAsync(curator));
            import = (await started.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!;
            await WritingAsync(curator, import);
            await service.StopAsync();
        }

        await using var later = await StartAsync(database.ConnectionString);
        var job = await CuratorOf(later).EndedAsync(import);

        Assert.Equal("interrupted", job.GetProperty("state").GetString());
        Assert.Contains("send the file again", job.GetProperty("message").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ImportCalledOffEndsSoonAndNothingIsTaken()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = await StartAsync(database.ConnectionString);
        var curator = CuratorOf(service);
        var (id, tag) = await curator.MakeAsync();
        using var started = await curator.ImportAsync(id, tag, Query, await FileAsync(curator));
        var import = (await started.JsonAsync(HttpStatusCode.Accepted)).GetProperty("id").GetString()!;

        using var called = await curator.Client.DeleteAsync("/api/v1/imports/" + import, Cancellation);
        await called.JsonAsync(HttpStatusCode.Accepted);
        var job = await curator.EndedAsync(import);

        Assert.Equal("cancelled", job.GetProperty("state").GetString());
        Assert.Equal(tag, await curator.TagAsync(id));
        Assert.Equal(0, await KeptAsync(database.ConnectionString, id));
    }

    private Task<ServiceProcess> StartAsync(string connectionString) => ServiceProcess.StartAsync(
        connectionString, _folder.FullName, ("Access:AdministratorKey", ServiceUnderTest.AdministratorKey), ("RateLimits:RequestsPerMinute", "0"));

    private static Curator CuratorOf(ServiceProcess service)
    {
        service.Client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", ServiceUnderTest.AdministratorKey);
        return new Curator(service.Client);
    }

    // Waits until rows are being written, in the transaction that is to end the import.
    private static async Task WritingAsync(Curator curator, string import)
    {
        while (true)
        {
            var job = await curator.Client.JsonAtAsync("/api/v1/imports/" + import);
            Assert.True(job.GetProperty("state").GetString() is "queued" or "running", job.ToString());
            if (job.GetProperty("percent").GetInt32() > 50)
            {
                return;
            }

            await Task.Delay(50, Cancellation);
        }
    }

    // Made up to be large; no value means anything.
    private static async Task<string> FileAsync(Curator curator)
    {
        var parents = await curator.Client.JsonAtAsync("/api/v1/table-versions/1/tables/parents.json");
        var keys = parents.EnumerateArray().Where(p => p.GetProperty("kind").GetString() is "aldehyde" or "ketone")
            .Select(p => p.GetProperty("key").GetString()!).ToList();
        var sources = await curator.Client.JsonAtAsync("/api/v1/table-versions/1/tables/sources.json");
        var source = sources.EnumerateArray().First(s => s.GetProperty("howRead").GetString() == "memory").GetProperty("key").GetString();
        var csv = new StringBuilder(
            "key,parent_key,kind_key,carbonyls_condensed,form,low_celsius,high_celsius,is_unusual,decomposes,colour_key,source_key,locator,as_printed,corrected,verification,note\n");
        for (var i = 0; i < Records; i++)
        {
            var low = 100 + (i % 150);
            csv.Append(CultureInfo.InvariantCulture,
                $"zz-{i},{keys[i % keys.Count]},2-4-dinitrophenylhydrazone,1,,{low},{low + 2},,no,,{source},row {i},{low}-{low + 2},unstated,recalled,made up for a test of size\n");
        }

        return csv.ToString();
    }

    private static async Task<long> KeptAsync(string connectionString, string proposal)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(Cancellation);
        await using var count = new NpgsqlCommand("SELECT count(*) FROM proposed_records WHERE proposal_id = @id", connection);
        count.Parameters.AddWithValue("id", proposal);
        return (long)(await count.ExecuteScalarAsync(Cancellation))!;
    }
}

using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Runtime.Versioning;
using System.Text;
using System.Text.Json.Nodes;
using Derivid.Core.Curation;
using Derivid.Store;
using Derivid.Store.Databases;
using Derivid.Store.Sqlite;
using Derivid.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Infrastructure;
using Microsoft.EntityFrameworkCore.Migrations;

namespace Derivid.Hostile.Machine;

/// <summary>The service on a machine that fails it: it goes on, or says what is wrong in one clear line, and shows nothing of its inside.</summary>
/// <remarks>
/// Linux only: a folder that may not be written to, as the superuser too (setpriv takes the right away), and disks of a few
/// megabytes that only the service's process sees (unshare), need no rights but the kernel's leave and no tidying up.
/// </remarks>
[SupportedOSPlatform("linux")]
public sealed class MachineTests : IDisposable
{
    private const string Identifications = "/api/v1/identifications";

    private static readonly TimeSpan LongestStart = TimeSpan.FromMinutes(2);

    private static readonly string[] WithoutRights = ["setpriv", "--bounding-set=-dac_override,-dac_read_search"];

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-machine-");

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    private string DataFolder => Path.Combine(_folder.FullName, "data");

    private string Database => $"Data Source={Path.Combine(DataFolder, DatabaseOptions.FileName)}";

    public void Dispose()
    {
        SqliteConnection.ClearAllPools();
        if (Directory.Exists(DataFolder))
        {
            File.SetUnixFileMode(DataFolder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }

        _folder.Delete(recursive: true);
    }

    [Fact]
    public async Task FolderThatMayNotBeWrittenToIsNamed()
    {
        Directory.CreateDirectory(DataFolder);
        File.SetUnixFileMode(DataFolder, UnixFileMode.UserRead | UnixFileMode.UserExecute);

        await AssertNotReadyAsync("unable to open database file");
    }

    [Fact]
    public async Task FolderThatCannotBeMadeIsNamed()
    {
        File.SetUnixFileMode(_folder.FullName, UnixFileMode.UserRead | UnixFileMode.UserExecute);
        try
        {
            await AssertNotReadyAsync(DataFolder);
        }
        finally
        {
            File.SetUnixFileMode(_folder.FullName, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        }
    }

    [Fact]
    public async Task FileWithACorruptHeaderIsToldAndLeftAlone()
    {
        await MadeAsync();
        var bytes = await File.ReadAllBytesAsync(SqliteFile, Patience);
        Encoding.ASCII.GetBytes("no database file").CopyTo(bytes, 0);
        await File.WriteAllBytesAsync(SqliteFile, bytes, Patience);

        await AssertNotReadyAsync("file is not a database");
        Assert.Equal(bytes, await File.ReadAllBytesAsync(SqliteFile, Patience));
    }

    [Fact]
    public async Task FileOfANewerBuildIsRefusedAndLeftAlone()
    {
        await MadeAsync();
        await ExecuteAsync("""INSERT INTO "__EFMigrationsHistory" (migration_id, product_version) VALUES ('99990101000000_Later', '99')""");

        await using var service = ServiceProcess.Begin([], Database, _folder.FullName);
        Assert.NotEqual(0, await service.EndedAsync());
        AssertSaidOnce(service, "last used by a newer build (migration 99990101000000_Later)");
    }

    [Fact]
    public async Task FileOfAnOlderBuildIsBroughtUpToDate()
    {
        var engine = new SqliteEngine(Database);
        await engine.CreateAsync(Patience);
        var options = new DbContextOptionsBuilder<DerividContext>();
        engine.Configure(options);
        await using (var context = new DerividContext(options.Options, TableLayout.Standard))
        {
            await context.GetService<IMigrator>().MigrateAsync(context.Database.GetMigrations().First(), Patience);
        }

        await using var service = ServiceProcess.Begin([], Database, _folder.FullName);
        await service.ReadyAsync();
        using var stored = await IdentifyAsync(service, 0);
        Assert.Equal(HttpStatusCode.Created, stored.StatusCode);
        AssertNothingInside(service);
    }

    [Fact]
    public async Task TwoProcessesOnOneFileLoseNothing()
    {
        Directory.CreateDirectory(DataFolder);
        await using var first = ServiceProcess.Begin([], Database, _folder.FullName, ("RateLimits:AnonymousRequestsPerMinute", "0"));
        await first.ReadyAsync();
        await using var second = ServiceProcess.Begin([], Database, _folder.FullName, ("RateLimits:AnonymousRequestsPerMinute", "0"));
        await second.ReadyAsync();

        var stored = new List<string>();
        await Parallel.ForEachAsync(Enumerable.Range(0, 200), new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (number, _) =>
        {
            using var response = await IdentifyAsync(number % 2 == 0 ? first : second, number);
            Assert.Equal(HttpStatusCode.Created, response.StatusCode);
            lock (stored)
            {
                stored.Add(response.Headers.Location!.ToString());
            }
        });

        foreach (var address in stored)
        {
            using var found = await first.Client.GetAsync(address, Patience);
            Assert.Equal(HttpStatusCode.OK, found.StatusCode);
        }

        AssertNothingInside(first);
        AssertNothingInside(second);
    }

    [Fact]
    public async Task FullDiskIsToldAndNothingIsLost()
    {
        await using var service = ServiceProcess.Begin(OnADiskOf("12m", DataFolder), Database, _folder.FullName, ("RateLimits:AnonymousRequestsPerMinute", "0"));
        await service.ReadyAsync();

        var stored = new List<string>();
        JsonObject? problem = null;
        for (var number = 0; problem is null; number++)
        {
            using var response = await IdentifyAsync(service, number);
            if (response.StatusCode == HttpStatusCode.Created)
            {
                stored.Add(response.Headers.Location!.ToString());
                continue;
            }

            problem = await AssertAwayAsync(response, "storage-unavailable");
        }

        foreach (var address in stored)
        {
            using var found = await service.Client.GetAsync(address, Patience);
            Assert.Equal(HttpStatusCode.OK, found.StatusCode);
        }

        using var unstored = await service.Client.PostAsync(Identifications + "?store=false", Observation(-1), Patience);
        Assert.Equal(HttpStatusCode.OK, unstored.StatusCode);
        await AssertSaidAsync(service, "database or disk is full");
        AssertNothingInside(service);
        TestContext.Current.SendDiagnosticMessage(string.Create(
            CultureInfo.InvariantCulture, $"A disk of 12 MB was full after {stored.Count} identifications; all of them were found."));
    }

    [Fact]
    public async Task DiskFullFromTheStartIsTold()
    {
        await using var service = ServiceProcess.Begin(OnADiskOf("64k", DataFolder), Database, _folder.FullName);
        await AssertNotReadyAsync(service, "database or disk is full");
    }

    [Fact]
    public async Task FullTempFolderRefusesAnImportAndNothingElse()
    {
        var temp = Path.Combine(_folder.FullName, "temp");
        await using var service = ServiceProcess.Begin(
            [.. OnADiskOf("256k", temp)], Database, _folder.FullName,
            ("TMPDIR", temp), ("Access:AdministratorKey", ServiceProcess.AdministratorKey));
        await service.ReadyAsync();
        service.Client.DefaultRequestHeaders.Authorization = new("Bearer", ServiceProcess.AdministratorKey);
        using var title = new StringContent("""{ "title": "A file too large for the disk" }""", Encoding.UTF8, "application/json");
        using var proposal = await service.Client.PostAsync("/api/v1/proposals", title, Patience);

        using var import = new HttpRequestMessage(HttpMethod.Post, proposal.Headers.Location + "/imports?table=sources");
        import.Headers.IfMatch.Add(proposal.Headers.ETag!);
        import.Content = new StringContent("key,citation,address,grade,family,how_read\n" + new string('\n', 2_000_000), Encoding.UTF8, "text/csv");
        using var refused = await service.Client.SendAsync(import, Patience);

        await AssertAwayAsync(refused, "busy");
        await AssertSaidAsync(service, "The temporary folder takes no file: No space left on device");
        using var stored = await IdentifyAsync(service, 0);
        Assert.Equal(HttpStatusCode.Created, stored.StatusCode);
        AssertNothingInside(service);
    }

    private string SqliteFile => Path.Combine(DataFolder, DatabaseOptions.FileName);

    // A disk that the command behind sees at the folder, and nobody else.
    private static string[] OnADiskOf(string size, string folder)
    {
        Directory.CreateDirectory(folder);
        return
        [
            "unshare", "--user", "--map-root-user", "--mount", "sh", "-c",
            $"mount -t tmpfs -o size={size} tmpfs '{folder}' && exec \"$@\"", "sh",
        ];
    }

    private static StringContent Observation(int number) => new(
        string.Create(CultureInfo.InvariantCulture, $$"""{ "molarMass": { "gramsPerMole": {{200 + (0.01 * number)}}, "uncertaintyGramsPerMole": 1 } }"""),
        Encoding.UTF8,
        "application/json");

    private static async Task<HttpResponseMessage> IdentifyAsync(ServiceProcess service, int number)
    {
        using var observation = Observation(number);
        return await service.Client.PostAsync(Identifications, observation, Patience);
    }

    private static async Task<JsonObject> AssertAwayAsync(HttpResponseMessage response, string slug)
    {
        var text = await response.Content.ReadAsStringAsync(Patience);
        Assert.True(response.StatusCode == HttpStatusCode.ServiceUnavailable, $"{(int)response.StatusCode}: {text}");
        Assert.NotNull(response.Headers.RetryAfter?.Delta);
        Assert.DoesNotMatch(Traces.InText(), text);
        var problem = JsonNode.Parse(text)!.AsObject();
        Assert.Equal("urn:derivid:problem:" + slug, (string?)problem["type"]);
        return problem;
    }

    private async Task AssertNotReadyAsync(string reason)
    {
        await using var service = ServiceProcess.Begin(WithoutRights, Database, _folder.FullName);
        await AssertNotReadyAsync(service, reason);
    }

    // It runs, answers that it is not ready, and tries again; a person can mend what is said without starting it anew.
    private static async Task AssertNotReadyAsync(ServiceProcess service, string reason)
    {
        await service.ListensAsync();
        await AssertSaidAsync(service, reason);
        using var ready = await service.Client.GetAsync("/health/ready", Patience);
        var problem = JsonNode.Parse(await ready.Content.ReadAsStringAsync(Patience))!.AsObject();
        Assert.Equal((HttpStatusCode.ServiceUnavailable, "urn:derivid:problem:not-ready"), (ready.StatusCode, (string?)problem["type"]));
        AssertNothingInside(service);
    }

    // The log is written by a thread of its own, and on a busy machine read here after the answer.
    private static async Task AssertSaidAsync(ServiceProcess service, string reason)
    {
        var clock = Stopwatch.StartNew();
        while (!service.Output.Contains(reason, StringComparison.Ordinal))
        {
            Assert.True(clock.Elapsed < LongestStart, $"Not told: {reason}\n{service.Output}");
            await Task.Delay(50, Patience);
        }
    }

    private static void AssertSaidOnce(ServiceProcess service, string reason)
    {
        Assert.Single(service.Output.Split('\n'), line => line.Contains(reason, StringComparison.Ordinal));
        Assert.DoesNotContain("   at ", service.Output, StringComparison.Ordinal);
    }

    private static void AssertNothingInside(ServiceProcess service) => Assert.DoesNotMatch(Traces.InLog(), service.Output);

    private async Task MadeAsync()
    {
        await using var service = ServiceProcess.Begin([], Database, _folder.FullName);
        await service.ReadyAsync();
        await service.KillAsync();
        await ExecuteAsync("PRAGMA wal_checkpoint(TRUNCATE)");
        SqliteConnection.ClearAllPools();
    }

    private async Task<object?> ExecuteAsync(string sql)
    {
        await using var connection = new SqliteConnection(Database + ";Pooling=False");
        await connection.OpenAsync(Patience);
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        return await command.ExecuteScalarAsync(Patience);
    }
}

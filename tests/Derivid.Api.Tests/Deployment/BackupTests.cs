using System.Net;
using System.Runtime.Versioning;
using Derivid.Core.Teaching;

namespace Derivid.Api.Tests.Deployment;

/// <summary>backup.sh and restore.sh, on a database that the service works on.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class BackupTests(DeployedServer server) : IClassFixture<DeployedServer>, IDisposable
{
    private const string Audit = "/api/v1/audit?limit=100";

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-backup-");

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task ServiceOnTheRestoredDatabaseAnswersTheSameToTheByte()
    {
        await using var service = await StartedAsync("derivid_original");
        using var client = service.ClientWith(ServiceUnderTest.AdministratorKey);
        using var kept = await client.PostAsync(Requests.Identifications, Requests.Propanone);
        var address = $"{Requests.Identifications}/{(await kept.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString()}";
        using var student = await service.ClientAsAsync(Role.Student);
        string[] addresses = [address, address + "/observation", address + "/replay", "/api/v1/table-versions/1", Audit];
        var before = await BytesAsync(client, addresses);

        var dump = await BackedUpAsync("derivid_original");
        using var later = await client.PostAsync(Requests.Identifications, """{ "meltingPoint": "81" }""");
        var lost = (await later.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();
        await server.CreateAsync("derivid_restored");
        var restored = await server.ScriptAsync("restore.sh", "derivid_restored", DeployedServer.Owner, dump);
        Assert.True(restored.ExitCode == 0, restored.Errors);

        await using var again = server.NewService("derivid_restored");
        using var ready = await again.StartAsync();
        using var administrator = again.ClientWith(ServiceUnderTest.AdministratorKey);
        Assert.Equal(before, await BytesAsync(administrator, addresses));
        using var sameStudent = again.ClientWith(student.DefaultRequestHeaders.Authorization!.Parameter);
        await sameStudent.JsonAtAsync(Requests.Keys + "/current");
        using var repeated = await ready.PostAsync(Requests.Identifications, Requests.Propanone);
        Assert.Equal(HttpStatusCode.Created, repeated.StatusCode);
        using var tooLate = await ready.GetAsync($"{Requests.Identifications}/{lost}", Cancellation);
        Assert.Equal(HttpStatusCode.NotFound, tooLate.StatusCode);
    }

    [Fact]
    public async Task RestoreOverwritesNothing()
    {
        await using var service = await StartedAsync("derivid_full");
        var dump = await BackedUpAsync("derivid_full");
        using var client = await service.StartAsync();
        using var kept = await client.PostAsync(Requests.Identifications, Requests.Propanone);
        var id = (await kept.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString();

        var refused = await server.ScriptAsync("restore.sh", "derivid_full", DeployedServer.Owner, dump);

        Assert.Equal(1, refused.ExitCode);
        Assert.Contains("derivid_full isn't empty", refused.Errors, StringComparison.Ordinal);
        await client.JsonAtAsync($"{Requests.Identifications}/{id}");
    }

    [Fact]
    public async Task DamagedDumpIsRestoredNotAtAll()
    {
        await using var service = await StartedAsync("derivid_damaged");
        var dump = await BackedUpAsync("derivid_damaged");
        var whole = await File.ReadAllBytesAsync(dump, Cancellation);
        var cut = Path.Combine(_folder.FullName, "cut.dump");
        await server.CreateAsync("derivid_from_damaged");

        // Without its end the list of contents can still be read; without anything but the beginning it can't.
        foreach (var length in new[] { whole.Length - 1000, 100, 0 })
        {
            await File.WriteAllBytesAsync(cut, whole[..length], Cancellation);
            var refused = await server.ScriptAsync("restore.sh", "derivid_from_damaged", DeployedServer.Owner, cut);
            Assert.True(refused.ExitCode != 0, $"{length}");
        }

        var good = await server.ScriptAsync("restore.sh", "derivid_from_damaged", DeployedServer.Owner, dump);
        Assert.True(good.ExitCode == 0, good.Errors);
    }

    [Theory]
    [InlineData("postgres", "holds no table of Derivid")]
    [InlineData("derivid_nowhere", "does not exist")]
    public async Task BackupOfNothingLeavesNoFile(string database, string reason)
    {
        var refused = await server.ScriptAsync("backup.sh", database, "postgres", _folder.FullName);

        Assert.Equal(1, refused.ExitCode);
        Assert.Contains(reason, refused.Errors, StringComparison.Ordinal);
        Assert.Empty(_folder.GetFileSystemInfos());
    }

    [Fact]
    [UnsupportedOSPlatform("windows")]
    public async Task OldBackupsGoOnceANewOneIsGood()
    {
        await using var service = await StartedAsync("derivid_old");
        foreach (var (name, days) in new[] { ("derivid_old-1.dump", 20), ("derivid_old-2.dump", 3), ("other-1.dump", 20) })
        {
            var path = Path.Combine(_folder.FullName, name);
            await File.WriteAllTextAsync(path, "old", Cancellation);
            File.SetLastWriteTimeUtc(path, DateTime.UtcNow.AddDays(-days));
        }

        var dump = await BackedUpAsync("derivid_old", "14");

        string[] expected = ["derivid_old-2.dump", Path.GetFileName(dump), "other-1.dump"];
        Assert.Equal(expected, _folder.GetFiles().Select(file => file.Name).Order(StringComparer.Ordinal));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(dump));
    }

    [Theory]
    [InlineData("backup.sh")]
    [InlineData("backup.sh", "folder", "two weeks")]
    [InlineData("restore.sh")]
    public async Task WrongArgumentsAreSaid(string script, params string[] arguments)
    {
        var refused = await server.ScriptAsync(script, "postgres", "postgres", arguments);

        Assert.Equal(2, refused.ExitCode);
        Assert.Contains(script, refused.Errors, StringComparison.Ordinal);
    }

    private async Task<ServiceUnderTest> StartedAsync(string database)
    {
        await server.CreateAsync(database);
        await server.MigrateAsync(database, DeployedServer.Owner);
        var service = server.NewService(database);
        using var client = await service.StartAsync();
        return service;
    }

    // As the service's own role, which may read everything.
    private async Task<string> BackedUpAsync(string database, params string[] days)
    {
        var done = await server.ScriptAsync("backup.sh", database, DeployedServer.Service, [_folder.FullName, .. days]);
        Assert.True(done.ExitCode == 0, done.Errors);
        return done.Output.Trim();
    }

    private static async Task<List<string>> BytesAsync(HttpClient client, IEnumerable<string> addresses)
    {
        var bytes = new List<string>();
        foreach (var address in addresses)
        {
            using var response = await client.GetAsync(address, Cancellation);
            Assert.True(response.IsSuccessStatusCode, address);
            bytes.Add(Convert.ToHexString(await response.Content.ReadAsByteArrayAsync(Cancellation)));
        }

        return bytes;
    }
}

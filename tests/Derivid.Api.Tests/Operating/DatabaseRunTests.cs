using System.Diagnostics;
using System.Net;
using Derivid.Testing;
using Microsoft.Data.Sqlite;

namespace Derivid.Api.Tests.Operating;

/// <summary>The service's runs that copy, restore and check an SQLite database, as processes of their own.</summary>
public sealed class DatabaseRunTests : IAsyncDisposable
{
    private readonly SqliteDatabase _database = new();
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-copies-");

    private string Copy => Path.Combine(_folder.FullName, "copy.db");

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public async ValueTask DisposeAsync()
    {
        await _database.DisposeAsync();
        _folder.Delete(recursive: true);
    }

    // Copied while answers are stored: of one moment, and nothing that was acknowledged before it is missing.
    [Fact]
    public async Task CopyMadeUnderWayIsRestoredWithAllThatWasAcknowledgedBefore()
    {
        var kept = new List<string>();
        int before;
        await using (var service = await ServiceProcess.StartAsync(_database.ConnectionString, _folder.FullName))
        {
            for (var i = 0; i < 20; i++)
            {
                kept.Add(await StoredAsync(service.Client, 60 + i));
            }

            before = kept.Count;
            using var ended = new CancellationTokenSource();
            var writing = WriteOnAsync(service.Client, kept, ended.Token);
            var backedUp = await RunAsync("--backup", Copy);
            Assert.True(backedUp.ExitCode == 0, backedUp.Output);
            Assert.Contains("the copy is sound: table version 1", backedUp.Output, StringComparison.Ordinal);
            await ended.CancelAsync();
            await writing;

            var inUse = await RunAsync("--restore", Copy);
            Assert.Equal(1, inUse.ExitCode);
            Assert.Contains("is in use; stop the service first", inUse.Output, StringComparison.Ordinal);
            var again = await RunAsync("--backup", Copy);
            Assert.Equal(1, again.ExitCode);
            Assert.Contains("exists already, and nothing is overwritten", again.Output, StringComparison.Ordinal);
            await service.StopAsync();
        }

        if (!OperatingSystem.IsWindows())
        {
            Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(Copy));
        }

        var restored = await RunAsync("--restore", Copy);
        Assert.True(restored.ExitCode == 0, restored.Output);
        Assert.Single(Directory.GetFiles(Path.GetDirectoryName(_database.FilePath)!, "derivid.db.20*Z"));
        await using var after = await ServiceProcess.StartAsync(_database.ConnectionString, _folder.FullName);
        foreach (var id in kept.Take(before))
        {
            using var found = await after.Client.GetAsync($"{Requests.Identifications}/{id}", Cancellation);
            Assert.Equal(HttpStatusCode.OK, found.StatusCode);
        }

        await StoredAsync(after.Client, 200);
    }

    [Fact]
    public async Task WhatIsDamagedNewerOrSomethingElseIsRefusedAndNothingChanges()
    {
        await using (await ServiceProcess.StartAsync(_database.ConnectionString, _folder.FullName))
        {
        }

        Assert.Equal(0, (await RunAsync("--backup", Copy)).ExitCode);
        var whole = await File.ReadAllBytesAsync(Copy, Cancellation);
        var standing = await HashAsync();

        await File.WriteAllBytesAsync(Copy, [.. whole[..(whole.Length / 2)], .. new byte[whole.Length / 2]], Cancellation);
        await AssertRefusedAsync("is damaged");
        await File.WriteAllBytesAsync(Copy, whole[..1000], Cancellation);
        await AssertRefusedAsync("");
        await File.WriteAllTextAsync(Copy, "no database", Cancellation);
        await AssertRefusedAsync("file is not a database");
        await File.WriteAllBytesAsync(Copy, [], Cancellation);
        await AssertRefusedAsync("none of this service");
        await File.WriteAllBytesAsync(Copy, whole, Cancellation);
        await ExecuteAsync("INSERT INTO \"__EFMigrationsHistory\" VALUES ('99990101000000_Later', '99');");
        await AssertRefusedAsync("was last used by a newer build (migration 99990101000000_Later)", isSound: true);
        File.Delete(Copy);
        await AssertRefusedAsync("There is no file");

        // What stands is found damaged too, and then restored over by what is sound.
        await File.WriteAllBytesAsync(Copy, whole, Cancellation);
        await File.WriteAllTextAsync(_database.FilePath, "no database", Cancellation);
        Assert.Equal(1, (await RunAsync("--check")).ExitCode);
        Assert.Equal(0, (await RunAsync("--restore", Copy)).ExitCode);
        Assert.Equal(0, (await RunAsync("--check")).ExitCode);

        async Task AssertRefusedAsync(string reason, bool isSound = false)
        {
            var restore = await RunAsync("--restore", Copy);
            Assert.Equal(1, restore.ExitCode);
            Assert.Contains(reason, restore.Output, StringComparison.Ordinal);
            Assert.DoesNotContain("   at ", restore.Output, StringComparison.Ordinal);
            Assert.Equal(isSound ? 0 : 1, (await RunAsync("--check", Copy)).ExitCode);
            Assert.Equal(standing, await HashAsync());
        }
    }

    [Fact]
    public async Task PostgreSqlIsSentToItsOwnPrograms()
    {
        var refused = await RunAsync(["--backup", Copy, "--ConnectionStrings:Derivid", "Host=127.0.0.1;Port=1;Database=none;Username=none"]);

        Assert.Equal(1, refused.ExitCode);
        Assert.Contains("deploy/backup.sh", refused.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task UnknownSettingIsRefusedBeforeAnythingIsStarted()
    {
        var refused = await RunAsync(["--Acess:RequireKeyToRead", "true", "--ConnectionStrings:Derivid", _database.ConnectionString]);

        Assert.Equal(2, refused.ExitCode);
        Assert.Contains("\"Acess:RequireKeyToRead\" is no setting of the service", refused.Output, StringComparison.Ordinal);
        Assert.False(File.Exists(_database.FilePath));
    }

    [Theory]
    [InlineData("Access:AdministratorKey", "a-key-of-mine", "Access:AdministratorKey isn't a key.")]
    [InlineData("Table:PollSeconds", "0", "Table:PollSeconds is 0; 0.1 to 3600 s are allowed.")]
    [InlineData("Table:PollSeconds", "often", "'often'")]
    [InlineData("Database:Engine", "Paper", "Database:Engine is 'Paper'; allowed are Sqlite and PostgreSql.")]
    public async Task SettingThatCannotBeIsToldInASentenceAndNotByWhereItWasFound(string name, string value, string sentence)
    {
        var refused = await RunAsync(["--" + name, value, "--ConnectionStrings:Derivid", _database.ConnectionString]);

        Assert.Equal(2, refused.ExitCode);
        Assert.Contains(sentence, refused.Output, StringComparison.Ordinal);
        Assert.Contains("Nothing was started.", refused.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", refused.Output, StringComparison.Ordinal);
    }

    private static async Task<string> StoredAsync(HttpClient client, int celsius)
    {
        using var stored = await client.PostAsync(
            Requests.Identifications, Requests.Json($$"""{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "{{celsius}}" }] }"""), Cancellation);
        return (await stored.JsonAsync(HttpStatusCode.Created)).GetProperty("id").GetString()!;
    }

    private static async Task WriteOnAsync(HttpClient client, List<string> kept, CancellationToken ended)
    {
        for (var i = 0; !ended.IsCancellationRequested; i++)
        {
            kept.Add(await StoredAsync(client, 100 + (i % 200)));
        }
    }

    private async Task<string> HashAsync()
    {
        SqliteConnection.ClearAllPools();
        return Convert.ToHexString(System.Security.Cryptography.SHA256.HashData(await File.ReadAllBytesAsync(_database.FilePath, Cancellation)));
    }

    private async Task ExecuteAsync(string sql)
    {
        await using var connection = new SqliteConnection($"Data Source={Copy};Pooling=false");
        await connection.OpenAsync(Cancellation);
        await using var command = connection.CreateCommand();
        command.CommandText = sql;
        await command.ExecuteNonQueryAsync(Cancellation);
    }

    private Task<(int ExitCode, string Output)> RunAsync(string task, string? file = null) =>
        RunAsync([task, .. file is null ? Array.Empty<string>() : [file], "--ConnectionStrings:Derivid", _database.ConnectionString]);

    private async Task<(int ExitCode, string Output)> RunAsync(string[] words)
    {
        using var process = Process.Start(new ProcessStartInfo("dotnet", [typeof(Program).Assembly.Location, .. words])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            WorkingDirectory = _folder.FullName,
        })!;
        var texts = await Task.WhenAll(process.StandardOutput.ReadToEndAsync(Cancellation), process.StandardError.ReadToEndAsync(Cancellation));
        await process.WaitForExitAsync(Cancellation);
        return (process.ExitCode, string.Concat(texts));
    }
}

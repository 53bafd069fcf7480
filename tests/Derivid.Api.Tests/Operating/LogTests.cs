using System.Net;
using Derivid.Api.Operating;
using Derivid.Testing;
using Microsoft.Data.Sqlite;
using Microsoft.Extensions.Logging;

namespace Derivid.Api.Tests.Operating;

/// <summary>What an operator reads in the log.</summary>
public sealed class LogTests
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task RequestIsALineWithTheTraceIdOfItsProblemAndNothingOfWhatWasSent()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString, null, ("Logging:LogLevel:Requests", "Information"));
        using var client = await service.StartAsync();
        using var refused = await client.GetAsync("/api/v1/parents/no-such-compound", Patience);
        var trace = (string)(await refused.ProblemAsync(Http.ProblemTypes.NotFound))["traceId"]!;
        using var nowhere = await client.GetAsync("/secret-folder", Patience);
        Assert.Equal(HttpStatusCode.NotFound, nowhere.StatusCode);

        var line = await LineAsync(service, trace);
        Assert.Matches(@"^Information GET /api/v1/parents/\{[a-z]+\} 404 in [0-9.]+ ms, " + trace, line);
        await LineAsync(service, "GET (no route) 404 in ");
        using var unknown = await client.GetAsync("/api/v1/parents?note=private", Patience);
        await LineAsync(service, "GET /api/v1/parents 400 in ");
        Assert.DoesNotContain(service.Log.Lines, each => each.Contains("private", StringComparison.Ordinal)
            || each.Contains("no-such-compound", StringComparison.Ordinal) || each.Contains("secret-folder", StringComparison.Ordinal));
    }

    // The settings beside the program hold from whatever folder it is started; what it writes lies in that folder all the same.
    [Fact]
    public async Task StartedFromAnotherFolderItLogsNeitherAddressesNorQueries()
    {
        var folder = Directory.CreateTempSubdirectory("derivid-log-");
        await using var service = await ServiceProcess.StartAsync("Data Source=here.db", folder.FullName);
        using var first = await service.Client.GetAsync("/api/v1/parents?limit=1&note=private", Patience);
        using var second = await service.Client.GetAsync("/api/v1/parents?limit=1", Patience);
        await service.StopAsync();

        Assert.True(second.IsSuccessStatusCode);
        Assert.True(File.Exists(Path.Combine(folder.FullName, "here.db")));
        Assert.Contains("info: Microsoft.Hosting.Lifetime", service.Output, StringComparison.Ordinal);
        foreach (var hidden in (string[])["limit=1", "private", "/api/v1/parents", "SELECT"])
        {
            Assert.DoesNotContain(hidden, service.Output, StringComparison.Ordinal);
        }

        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task OutageIsALineAMinuteWithHowManyItMetAndOneAtItsEnd()
    {
        await using var database = new SqliteDatabase();
        var (time, log) = (new Clock(), new CapturedLog());
        using var factory = LoggerFactory.Create(logging => logging.AddProvider(log));
        var outages = new OutageLog(database.NewEngine(), time, factory.CreateLogger<OutageLog>());

        outages.NoteAnswer(time.Seconds);
        for (var second = 0; second < 125; second++)
        {
            outages.Note("gone");
            time.Seconds++;
        }

        outages.NoteAnswer(time.Seconds - 2);
        outages.NoteAnswer(time.Seconds);
        outages.NoteAnswer(time.Seconds);
        outages.Note("gone again");

        Assert.Equal(
            [
                $"Warning The database, {database.FilePath}, can't be used: gone (times since this was last said: 1) ",
                $"Warning The database, {database.FilePath}, can't be used: gone (times since this was last said: 60) ",
                $"Warning The database, {database.FilePath}, can't be used: gone (times since this was last said: 60) ",
                "Information The database is used again, after 125 s (failures since they were last told: 4). ",
                $"Warning The database, {database.FilePath}, can't be used: gone again (times since this was last said: 1) ",
            ],
            log.Lines);
    }

    [Fact]
    public void WhatGoesOnHappeningIsSaidAtOnceAndThenOnceAMinuteWithHowOften()
    {
        var time = new Clock();
        var minute = new EachMinute(time);
        var said = new List<int>();
        for (var second = 0; second < 125; second++)
        {
            if (minute.Due() is { } count)
            {
                said.Add(count);
            }

            time.Seconds++;
        }

        Assert.Equal([1, 60, 60], said);
    }

    [Fact]
    public async Task KeysOfSessionsThatCanNotBeReadAreToldOfWithoutAStackTraceUntilTheyCan()
    {
        await using var database = new SqliteDatabase();
        await using (var first = new ServiceUnderTest(database.ConnectionString))
        {
            (await first.StartAsync()).Dispose();
        }

        await using var connection = new SqliteConnection(database.ConnectionString);
        await connection.OpenAsync(Patience);
        await DoAsync("ALTER TABLE protection_keys RENAME TO elsewhere");
        await using var service = new ServiceUnderTest(database.ConnectionString);
        using var client = await service.StartAsync();
        var line = await LineAsync(service, "keys of sessions can't be read");
        await DoAsync("ALTER TABLE elsewhere RENAME TO protection_keys");
        await LineAsync(service, "The keys of sessions are read now.");

        Assert.StartsWith(
            "Warning The keys of sessions can't be read yet, so nobody can sign in: SQLite Error 1: 'no such table: protection_keys'. (times since this was last said: 1)",
            line, StringComparison.Ordinal);
        Assert.DoesNotContain(service.Log.Lines, each => each.Contains("   at ", StringComparison.Ordinal) && each.Contains("protection", StringComparison.OrdinalIgnoreCase));

        async Task DoAsync(string statement)
        {
            await using var command = new SqliteCommand(statement, connection);
            await command.ExecuteNonQueryAsync(Patience);
        }
    }

    private static async Task<string> LineAsync(ServiceUnderTest service, string part)
    {
        // It is written once the answer is sent.
        using var soon = new CancellationTokenSource(TimeSpan.FromSeconds(20));
        while (!soon.IsCancellationRequested)
        {
            if (service.Log.Lines.FirstOrDefault(line => line.Contains(part, StringComparison.Ordinal)) is { } found)
            {
                return found;
            }

            await Task.Delay(20, Patience);
        }

        throw new InvalidOperationException($"Nothing was logged of {part}, but:\n{string.Join('\n', service.Log.Lines)}");
    }

    private sealed class Clock : TimeProvider
    {
        public long Seconds { get; set; } = 1;

        public override long TimestampFrequency => 1;

        public override long GetTimestamp() => Seconds;
    }
}

using System.Diagnostics;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;
using Derivid.Store.PostgreSql;
using Derivid.Testing;
using Npgsql;

namespace Derivid.Api.Tests.Curation;

/// <summary>Two instances on one PostgreSQL database: what one releases the other serves.</summary>
[Trait("Database", "PostgreSQL")]
[Collection(nameof(Alone))]
public sealed class TwoInstancesTests(PostgreSqlServer server)
{
    private const int Releases = 5;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ReleaseIsAnnouncedToTheOther()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var pair = await Pair.StartAsync(database.ConnectionString, pollSeconds: 3600);

        var seconds = new List<double>();
        for (var round = 0; round < Releases; round++)
        {
            seconds.Add(await pair.SecondsUntilTheOtherServesAsync($"round {round}"));
        }

        var median = seconds.Order().ElementAt(Releases / 2);
        TestContext.Current.SendDiagnosticMessage("Other instance after {0:0.000} s in the median, {1:0.000} s at worst.", median, seconds.Max());
        // It would find out by itself after an hour; how long it takes is a figure, not a rule.
        Assert.All(seconds, each => Assert.InRange(each, 0, 60));
    }

    [Fact]
    public async Task WithoutAnnouncementsTheOtherFindsItWithinThePollingInterval()
    {
        const double PollSeconds = 2;
        await using var database = await server.NewDatabaseAsync();
        await using var pair = await Pair.StartAsync(database.ConnectionString, PollSeconds);
        await CutListenersAsync(database.ConnectionString);

        var seconds = await pair.SecondsUntilTheOtherServesAsync("cut off");

        // The interval, and a second to load the version on a busy machine.
        TestContext.Current.SendDiagnosticMessage("Other instance after {0:0.000} s with LISTEN cut off, polling every {1} s.", seconds, PollSeconds);
        Assert.InRange(seconds, 0, PollSeconds + 1);
    }

    private static async Task CutListenersAsync(string connectionString)
    {
        await using var connection = new NpgsqlConnection(connectionString);
        await connection.OpenAsync(Cancellation);
        await using var cut = new NpgsqlCommand(
            "SELECT count(pg_terminate_backend(pid)) FROM pg_stat_activity WHERE application_name = @name AND datname = current_database()", connection);
        cut.Parameters.AddWithValue("name", PostgreSqlEngine.ListenerName);
        Assert.Equal(2L, await cut.ExecuteScalarAsync(Cancellation));
    }

    private sealed class Pair : IAsyncDisposable
    {
        private readonly ServiceUnderTest _one;
        private readonly ServiceUnderTest _other;
        private Curator? _author;
        private Curator? _reviewer;
        private HttpClient? _reader;
        private NpgsqlConnection? _ear;

        private Pair(ServiceUnderTest one, ServiceUnderTest other) => (_one, _other) = (one, other);

        public static async Task<Pair> StartAsync(string connectionString, double pollSeconds)
        {
            var poll = ("Table:PollSeconds", pollSeconds.ToString(System.Globalization.CultureInfo.InvariantCulture));
            var pair = new Pair(new ServiceUnderTest(connectionString, null, poll), new ServiceUnderTest(connectionString, null, poll));
            (await pair._one.StartAsync()).Dispose();
            pair._reader = await pair._other.StartAsync();
            pair._author = new Curator(await pair._one.ClientAsAsync(Role.Instructor));
            pair._reviewer = new Curator(await pair._one.ClientAsAsync(Role.Instructor));
            await ListeningAsync(connectionString);
            pair._ear = new NpgsqlConnection(connectionString);
            await pair._ear.OpenAsync(Cancellation);
            await using var listen = new NpgsqlCommand("LISTEN derivid_table_version", pair._ear);
            await listen.ExecuteNonQueryAsync(Cancellation);
            return pair;
        }

        /// <summary>From the commit of the release, which the test hears announced, until the other instance answers with it.</summary>
        public async Task<double> SecondsUntilTheOtherServesAsync(string note)
        {
            var before = await ServedAsync();
            var committed = CommittedAsync();
            var served = ServedBeyondAsync(before);
            var version = await _author!.ReleaseNoteAsync(note, _reviewer!);
            Assert.Equal(version, await ServedAfterAsync(served));
            return Math.Max(0, Stopwatch.GetElapsedTime(await committed, await served).TotalSeconds);
        }

        private async Task<int> ServedAfterAsync(Task<long> served)
        {
            await served;
            return await ServedAsync();
        }

        private async Task<long> CommittedAsync()
        {
            await _ear!.WaitAsync(Cancellation);
            return Stopwatch.GetTimestamp();
        }

        private async Task<long> ServedBeyondAsync(int version)
        {
            while (await ServedAsync() == version)
            {
                await Task.Delay(5, Cancellation);
            }

            return Stopwatch.GetTimestamp();
        }

        public async ValueTask DisposeAsync()
        {
            _author!.Client.Dispose();
            _reviewer!.Client.Dispose();
            _reader!.Dispose();
            await _ear!.DisposeAsync();
            await _one.DisposeAsync();
            await _other.DisposeAsync();
        }

        private async Task<int> ServedAsync() =>
            (await _reader!.JsonAtAsync("/api/v1/colours?limit=1")).GetProperty("tableVersion").GetInt32();

        private static async Task ListeningAsync(string connectionString)
        {
            await using var connection = new NpgsqlConnection(connectionString);
            await connection.OpenAsync(Cancellation);
            await using var count = new NpgsqlCommand(
                "SELECT count(*) FROM pg_stat_activity WHERE application_name = @name AND datname = current_database() AND query LIKE 'LISTEN%'", connection);
            count.Parameters.AddWithValue("name", PostgreSqlEngine.ListenerName);
            while ((long)(await count.ExecuteScalarAsync(Cancellation))! < 2)
            {
                await Task.Delay(20, Cancellation);
            }
        }
    }
}

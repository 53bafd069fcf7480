using System.Globalization;
using Derivid.Testing;

namespace Derivid.Benchmarks.Load;

/// <summary>What the service answers over HTTP in one run: each row a way to ask, beside the empty answer.</summary>
/// <remarks>
/// The load generator runs beside the service, on the same processors, and is told of by the empty answer's row: what that
/// takes, every row takes. Of what else runs on the machine the processor time of an answer knows least. Rates are not limited. A row that is answered otherwise than expected ends the run.
/// </remarks>
internal static class LoadTable
{
    private const int Connections = 32;
    private static readonly TimeSpan WarmUp = TimeSpan.FromSeconds(4);
    private static readonly TimeSpan Measured = TimeSpan.FromSeconds(8);

    /// <summary>Measures and prints the table.</summary>
    public static async Task RunAsync()
    {
        Console.WriteLine($"{Connections} connections, {Measured.TotalSeconds:0} s a row after {WarmUp.TotalSeconds:0} s, {Environment.ProcessorCount} processors shared with the service");
        Console.WriteLine();
        await using var sqlite = new SqliteDatabase();
        await EngineAsync("SQLite", sqlite);
        await using var server = new PostgreSqlServer();
        await using var postgres = await server.NewDatabaseAsync();
        await EngineAsync("PostgreSQL", postgres);
    }

    private static async Task EngineAsync(string engine, ITestDatabase database)
    {
        var folder = Directory.CreateTempSubdirectory("derivid-load-");
        try
        {
            await using var service = await ServiceProcess.StartAsync(
                database.ConnectionString,
                folder.FullName,
                ("RateLimits:RequestsPerMinute", "0"),
                ("RateLimits:AnonymousRequestsPerMinute", "0"),
                ("RateLimits:BatchItemsPerMinute", "0"),
                ("RateLimits:StoredPerHour", "0"));
            Console.WriteLine($"| {engine} | a second | of the empty answer | processor µs | median ms | 99 in 100 ms | KB an answer |");
            Console.WriteLine("|---|---|---|---|---|---|---|");
            var number = 0;
            var empty = await RowAsync("empty answer (/health/live)", service, () => LoadQuestions.Get("/health/live"), 200, null);
            await RowAsync("identification", service, () => LoadQuestions.Identification(Next(), "?store=false"), 200, empty);
            await RowAsync("ranking without reasons", service, () => LoadQuestions.Ranking(Next()), 200, empty);
            await RowAsync("identification, stored", service, () => LoadQuestions.Identification(Next(), ""), 201, empty);
            Console.WriteLine();
            Console.WriteLine(FormattableString.Invariant($"{service.PeakMegabytes:0} MB at most"));
            Console.WriteLine();

            int Next() => Interlocked.Increment(ref number);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task<double> RowAsync(string name, ServiceProcess service, Func<byte[]> next, int expected, double? empty)
    {
        var address = service.Client.BaseAddress!;
        await MeasureAsync(address, next, expected, WarmUp);
        var before = service.ProcessorTime;
        var (took, bytes) = await MeasureAsync(address, next, expected, Measured);
        var worked = service.ProcessorTime - before;
        took.Sort();
        var rate = took.Count / Measured.TotalSeconds;
        var share = empty is { } of ? (rate / of).ToString("0.0 %", CultureInfo.InvariantCulture) : "";
        Console.WriteLine(FormattableString.Invariant(
            $"| {name} | {rate:0} | {share} | {worked.TotalMicroseconds / took.Count:0} | {took[took.Count / 2].TotalMilliseconds:0.00} | {took[took.Count * 99 / 100].TotalMilliseconds:0.00} | {bytes / 1000.0 / took.Count:0.0} |"));
        return rate;
    }

    private static async Task<(List<TimeSpan> Took, long Bytes)> MeasureAsync(Uri address, Func<byte[]> next, int expected, TimeSpan span)
    {
        var connections = Enumerable.Range(0, Connections).Select(_ => new LoadConnection()).ToList();
        try
        {
            await Task.WhenAll(connections.Select(connection => connection.ConnectAsync(address)));
            using var stop = new CancellationTokenSource(span);
            var runs = await Task.WhenAll(connections.Select(connection => Task.Run(() => connection.RunAsync(next, expected, stop.Token))));
            return ([.. runs.SelectMany(run => run.Took)], runs.Sum(run => run.Bytes));
        }
        finally
        {
            connections.ForEach(connection => connection.Dispose());
        }
    }
}

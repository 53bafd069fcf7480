using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Text;
using Derivid.Testing;

namespace Derivid.Benchmarks.Start;

/// <summary>How long a published service takes from the start of its process to the first identification it answers.</summary>
internal static class StartTable
{
    private const int Times = 10;
    private const string Observation = """{ "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "125-127" }] }""";

    /// <summary>Prints the table.</summary>
    /// <param name="folder">Where the service was published to.</param>
    public static async Task RunAsync(string folder)
    {
        Console.WriteLine("| database | median s | least s | most s | processor s, median |");
        Console.WriteLine("|---|---|---|---|---|");
        await TellAsync("SQLite, new", folder, () => Task.FromResult<ITestDatabase>(new SqliteDatabase()), isNew: true);
        await TellAsync("SQLite, existing", folder, () => Task.FromResult<ITestDatabase>(new SqliteDatabase()), isNew: false);
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: false);
        async Task<ITestDatabase> OnServerAsync() => await PostgreSqlDatabase.CreateAsync(cluster.ConnectionString);
        await TellAsync("PostgreSQL, new", folder, OnServerAsync, isNew: true);
        await TellAsync("PostgreSQL, existing", folder, OnServerAsync, isNew: false);
    }

    private static async Task TellAsync(string what, string folder, Func<Task<ITestDatabase>> make, bool isNew)
    {
        var (seconds, processor) = (new List<double>(), new List<double>());
        var kept = isNew ? null : await make();
        if (kept is not null)
        {
            await OnceAsync(folder, kept.ConnectionString);
        }

        for (var i = 0; i < Times; i++)
        {
            var database = kept ?? await make();
            var (took, worked) = await OnceAsync(folder, database.ConnectionString);
            seconds.Add(took.TotalSeconds);
            processor.Add(worked.TotalSeconds);
            if (kept is null)
            {
                await database.DisposeAsync();
            }
        }

        if (kept is not null)
        {
            await kept.DisposeAsync();
        }

        Console.WriteLine(string.Create(
            CultureInfo.InvariantCulture, $"| {what} | {Median(seconds):0.00} | {seconds.Min():0.00} | {seconds.Max():0.00} | {Median(processor):0.00} |"));
    }

    private static double Median(List<double> values)
    {
        values.Sort();
        return (values[(Times / 2) - 1] + values[Times / 2]) / 2;
    }

    private static async Task<(TimeSpan Took, TimeSpan Worked)> OnceAsync(string folder, string connectionString)
    {
        var address = new Uri($"http://127.0.0.1:{FreePort()}");
        var start = new ProcessStartInfo(Path.Combine(Path.GetFullPath(folder), "Derivid.Api"), ["--urls", address.ToString()])
        {
            WorkingDirectory = folder,
            RedirectStandardOutput = true,
        };
        start.Environment["ConnectionStrings__Derivid"] = connectionString;
        start.Environment["Logging__LogLevel__Default"] = "Warning";
        using var client = new HttpClient { BaseAddress = address };
        var clock = Stopwatch.StartNew();
        using var process = Process.Start(start)!;
        process.BeginOutputReadLine();
        while (!await IsAnsweredAsync(client))
        {
            await Task.Delay(5);
        }

        var took = clock.Elapsed;
        process.Refresh();
        var worked = process.TotalProcessorTime;
        process.Kill();
        await process.WaitForExitAsync();
        return (took, worked);
    }

    private static async Task<bool> IsAnsweredAsync(HttpClient client)
    {
        using var content = new StringContent(Observation, Encoding.UTF8, "application/json");
        try
        {
            using var response = await client.PostAsync(new Uri("/api/v1/identifications?store=false", UriKind.Relative), content);
            return response.IsSuccessStatusCode;
        }
        catch (HttpRequestException)
        {
            return false;
        }
    }

    private static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }
}

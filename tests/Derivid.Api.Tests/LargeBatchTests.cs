using System.Diagnostics;
using System.Net;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>Eight batches at once as large as they come, answered by the service in a process of its own with little memory.</summary>
[Collection(nameof(Teaching.Alone))]
public sealed class LargeBatchTests : IDisposable
{
    private const int Batches = 8;

    // Of the managed heap; two such batches held whole did not fit into it.
    private const string HeapLimit = "0xC000000";
    private const double MostMegabytes = 500;

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-batches-");

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task EightAtOnceAreAnsweredInLittleMemoryAndSingleRequestsGoFirst()
    {
        await using var database = new SqliteDatabase();
        await using var service = await ServiceProcess.StartAsync(
            database.ConnectionString, _folder.FullName,
            ("DOTNET_GCHeapHardLimit", HeapLimit), ("RateLimits:AnonymousRequestsPerMinute", "0"));
        var body = BatchStoringTests.FullBatch(1000, 5);
        await service.Client.IdentifiedAsync(Requests.Propanone);

        var batches = Task.WhenAll(Enumerable.Range(0, Batches).Select(_ => LengthAsync(service.Client, body)));
        var waits = new List<double>();
        while (!batches.IsCompleted)
        {
            var clock = Stopwatch.StartNew();
            await service.Client.IdentifiedAsync(Requests.Propanone);
            waits.Add(clock.Elapsed.TotalMilliseconds);
            await Task.Delay(20, Cancellation);
        }

        var lengths = await batches;
        waits.Sort();
        TestContext.Current.SendDiagnosticMessage(
            "{0} batches of {1:0} MB each; {2} single identifications meanwhile, median {3:0} ms, p95 {4:0} ms, at most {5:0} ms; {6:0} MB of memory at most.",
            Batches, lengths[0] / 1e6, waits.Count, waits[waits.Count / 2], waits[waits.Count * 95 / 100], waits[^1], service.PeakMegabytes);
        Assert.All(lengths, length => Assert.Equal(lengths[0], length));
        Assert.InRange(lengths[0], 20_000_000, long.MaxValue);
        Assert.InRange(service.PeakMegabytes, 1, MostMegabytes);
    }

    private static async Task<long> LengthAsync(HttpClient client, string body)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, Requests.Batches);
        request.Content = Requests.Json(body);
        using var response = await client.SendAsync(request, HttpCompletionOption.ResponseHeadersRead, Cancellation);
        Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        await using var answer = await response.Content.ReadAsStreamAsync(Cancellation);
        var (length, chunk) = (0L, new byte[64 * 1024]);
        for (var read = -1; read != 0; length += read)
        {
            read = await answer.ReadAsync(chunk, Cancellation);
        }

        return length;
    }
}

using System.Net;
using System.Net.Sockets;
using System.Runtime.CompilerServices;
using System.Text;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>What holds up the end of the service, told to stop as the system does.</summary>
public sealed class StoppingTests(PostgreSqlServer server) : IDisposable
{
    // 10 s, and what a busy machine takes to end a process.
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(15);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-stopping-");

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task BodyThatTricklesInIsNotWaitedFor()
    {
        await using var database = new SqliteDatabase();
        await using var service = await ServiceProcess.StartAsync(database.ConnectionString, _folder.FullName);
        using var connection = new TcpClient();
        await connection.ConnectAsync(IPAddress.Loopback, service.Client.BaseAddress!.Port, Patience);
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(Patience);
        var trickling = TrickleAsync(connection.GetStream(), ended.Token);

        var took = await service.StopAsync();
        await ended.CancelAsync();

        await trickling;
        Assert.InRange(took, TimeSpan.Zero, Longest);
    }

    // A clock nobody stopped or an event nobody left holds a service that has ended, with its table.
    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task NothingHoldsAServiceThatHasEnded(bool isOnPostgreSql)
    {
        var services = await RunAndEndAsync(isOnPostgreSql ? await server.NewDatabaseAsync() : new SqliteDatabase());
        for (var round = 0; round < 100 && services.IsAlive; round++)
        {
            GC.Collect();
            GC.WaitForPendingFinalizers();
            await Task.Delay(100, Patience);
        }

        Assert.False(services.IsAlive);
    }

    // The pool of an SQLite file has a clock too, until the file is let go of.
    [MethodImpl(MethodImplOptions.NoInlining)]
    private static async Task<WeakReference> RunAndEndAsync(ITestDatabase kept)
    {
        await using var database = kept;
        await using var service = new ServiceUnderTest(database.ConnectionString);
        using var client = await service.StartAsync();
        using var answer = await client.PostAsync(Requests.Identifications, Requests.Propanone);
        await answer.JsonAsync(HttpStatusCode.Created);
        return new WeakReference(service.Services);
    }

    // Faster than the slowest body the server reads (240 bytes/s).
    private static async Task TrickleAsync(NetworkStream stream, CancellationToken cancellation)
    {
        try
        {
            await stream.WriteAsync(
                Encoding.ASCII.GetBytes($"POST {Requests.Identifications} HTTP/1.1\r\nHost: a\r\nContent-Type: application/json\r\nContent-Length: 60000\r\n\r\n"),
                cancellation);
            while (true)
            {
                await stream.WriteAsync(new byte[100], cancellation);
                await Task.Delay(100, cancellation);
            }
        }
        catch (Exception fault) when (fault is IOException or OperationCanceledException)
        {
            // The service is gone.
        }
    }
}

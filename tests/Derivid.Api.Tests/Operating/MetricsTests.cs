using System.Net;
using System.Net.Sockets;
using Derivid.Api.Identifications;
using Derivid.Api.Operating;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Operating;

/// <summary>Where metrics are told, if they are.</summary>
public sealed class MetricsTests
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task NothingIsToldUnlessItIsAskedFor()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase(), ("Telemetry:MetricsPort", ""));

        Assert.DoesNotContain("Metrics are told", service.Process.Output, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, await StatusAsync(service, new Uri(service.Process.Client.BaseAddress!, "/metrics")));
    }

    [Fact]
    public void CountThatNobodyHearsCostsNoMemory()
    {
        using var services = new ServiceCollection().AddMetrics().AddSingleton<ServiceMeter>().BuildServiceProvider();
        var meter = services.GetRequiredService<ServiceMeter>();
        void Count()
        {
            meter.Identified(IdentificationWay.Alone, IdentificationOutcome.Named, isStored: true);
            meter.Refused("busy", 503);
        }

        Count();
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++)
        {
            Count();
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public async Task PortThatIsTakenIsALineAndTheEnd()
    {
        using var taken = new TcpListener(IPAddress.Loopback, 0);
        taken.Start();
        await using var database = new SqliteDatabase();
        var folder = Directory.CreateTempSubdirectory("derivid-taken-");
        await using var service = ServiceProcess.Begin(
            [], database.ConnectionString, folder.FullName, ("Telemetry:MetricsPort", $"{((IPEndPoint)taken.LocalEndpoint).Port}"));

        Assert.Equal(1, await service.EndedAsync());
        Assert.Contains("Not started: metrics can't be told at 127.0.0.1:", service.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", service.Output, StringComparison.Ordinal);
        folder.Delete(recursive: true);
    }

    // Set aside for documents, and so no machine's (RFC 5737).
    [Fact]
    public async Task AddressThatIsNotThisMachinesIsALineAndTheEnd()
    {
        await using var database = new SqliteDatabase();
        var folder = Directory.CreateTempSubdirectory("derivid-elsewhere-");
        await using var service = ServiceProcess.Begin(
            [], database.ConnectionString, folder.FullName, ("Telemetry:MetricsPort", "0"), ("Telemetry:MetricsAddress", "192.0.2.1"));

        Assert.Equal(1, await service.EndedAsync());
        Assert.Contains("Not started: metrics can't be told at 192.0.2.1:0: ", service.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", service.Output, StringComparison.Ordinal);
        folder.Delete(recursive: true);
    }

    [Fact]
    public async Task StarIsEveryAddressThoseOfIPv4Too()
    {
        await using var service = await WatchedService.StartAsync(new SqliteDatabase(), ("Telemetry:MetricsAddress", "*"));
        var told = await Scrape.AddressOfAsync(service.Process);

        Assert.Equal(HttpStatusCode.OK, await StatusAsync(service, new UriBuilder(told) { Host = "127.0.0.1" }.Uri));
    }

    private static async Task<HttpStatusCode> StatusAsync(WatchedService service, Uri address)
    {
        using var response = await service.Process.Client.GetAsync(address, Patience);
        return response.StatusCode;
    }
}

using System.Net;
using System.Net.Sockets;
using System.Text;
using Derivid.Contracts;

namespace Derivid.Hostile.Machine;

/// <summary>Bodies that are announced and never come.</summary>
public sealed class PromisedBodyTests
{
    // Most of what an instance takes; whoever comes after the last is not let in by anybody.
    private const int Connections = 3500;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    // Room set aside for what was only announced took the memory of a small container within seconds, without a key.
    [Fact]
    public async Task ThousandsOfThemTakeLittleMemoryAndKeepNobodyOut()
    {
        await using var site = await Site.OnSqliteAsync();
        var address = site.Service.Client.BaseAddress!;
        var head = Encoding.ASCII.GetBytes(
            "POST /api/v1/identifications?store=false HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 65000\r\n\r\n{");
        var sockets = new List<Socket>();
        try
        {
            for (var count = 0; count < Connections; count++)
            {
                var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
                sockets.Add(socket);
                await socket.ConnectAsync(IPAddress.Loopback, address.Port, Patience);
                await socket.SendAsync(head, Patience);
            }

            using var health = await site.Service.Client.GetAsync("/health/ready", Patience);
            Assert.Equal(HttpStatusCode.OK, health.StatusCode);
            await site.As(Who.Ann).Identifications.IdentifyAsync(new IdentificationRequest(), store: false, Patience);
        }
        finally
        {
            sockets.ForEach(socket => socket.Dispose());
        }

        await site.AssertUnharmedAsync();
    }
}

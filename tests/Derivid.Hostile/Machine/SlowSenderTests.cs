using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Derivid.Hostile.Machine;

/// <summary>Who sends a request so slowly, or of such a size, that its connection would be held for good.</summary>
public sealed class SlowSenderTests
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    // One of a body of which a byte comes, one of headers that don't end, one of headers without end.
    [Theory]
    [InlineData("POST /api/v1/identifications HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 65000\r\n\r\n{", 0, 400, "came at under 2 KB a second", 20)]
    [InlineData("GET /health/live HTTP/1.1\r\nHost: localhost\r\nX-Slow: ", 0, 408, "arrive in time", 30)]
    [InlineData("GET /health/live HTTP/1.1\r\nHost: localhost\r\nX-Long: ", 17 * 1024, 431, "of 16 KB in all", 5)]
    public async Task IsToldWhyAndLetGo(string head, int letters, int status, string reason, int seconds)
    {
        await using var site = await Site.OnSqliteAsync();
        using var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
        await socket.ConnectAsync(IPAddress.Loopback, site.Service.Client.BaseAddress!.Port, Patience);
        await socket.SendAsync(Encoding.ASCII.GetBytes(head + new string('a', letters)), Patience);

        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(Patience);
        deadline.CancelAfter(TimeSpan.FromSeconds(seconds));
        await using var stream = new NetworkStream(socket);
        using var reader = new StreamReader(stream, Encoding.ASCII);
        var answer = await reader.ReadToEndAsync(deadline.Token);

        Assert.StartsWith($"HTTP/1.1 {status} ", answer, StringComparison.Ordinal);
        Assert.Contains("application/problem+json", answer, StringComparison.Ordinal);
        Assert.Contains($"\"status\":{status}", answer, StringComparison.Ordinal);
        Assert.Contains(reason, answer, StringComparison.Ordinal);
    }
}

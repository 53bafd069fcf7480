using System.Buffers.Text;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Derivid.Benchmarks.Load;

/// <summary>One kept-alive connection that sends a request, reads its answer to the last byte, and sends the next.</summary>
/// <remarks>Works for answers of known length only, which is what the service sends; costs little beside what it measures.</remarks>
internal sealed class LoadConnection : IDisposable
{
    private const int BufferBytes = 256 * 1024;

    private readonly Socket _socket = new(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
    private readonly byte[] _buffer = new byte[BufferBytes];

    /// <summary>Connects.</summary>
    /// <param name="address">Where to.</param>
    public Task ConnectAsync(Uri address) => _socket.ConnectAsync(IPAddress.Loopback, address.Port);

    /// <summary>Sends requests one after another until told to stop.</summary>
    /// <param name="next">The bytes of the next request.</param>
    /// <param name="expected">The status each is to be answered with.</param>
    /// <param name="stop">Ends it after the answer under way.</param>
    /// <returns>How long each took, and bytes of bodies read.</returns>
    public async Task<(List<TimeSpan> Took, long Bytes)> RunAsync(Func<byte[]> next, int expected, CancellationToken stop)
    {
        var took = new List<TimeSpan>(100_000);
        var bytes = 0L;
        while (!stop.IsCancellationRequested)
        {
            var request = next();
            var begun = Stopwatch.GetTimestamp();
            await _socket.SendAsync(request);
            bytes += await ReadAsync(expected);
            took.Add(Stopwatch.GetElapsedTime(begun));
        }

        return (took, bytes);
    }

    /// <inheritdoc/>
    public void Dispose() => _socket.Dispose();

    private async Task<int> ReadAsync(int expected)
    {
        var (held, whole, body) = (0, int.MaxValue, 0);
        while (held < whole)
        {
            var read = await _socket.ReceiveAsync(_buffer.AsMemory(held));
            if (read == 0)
            {
                throw new InvalidOperationException("The service closed the connection.");
            }

            held += read;
            if (whole == int.MaxValue && _buffer.AsSpan(0, held).IndexOf("\r\n\r\n"u8) is >= 0 and var end)
            {
                body = LengthOf(_buffer.AsSpan(0, end), expected);
                whole = end + 4 + body;
            }
        }

        return body;
    }

    private static int LengthOf(ReadOnlySpan<byte> head, int expected)
    {
        // HTTP/1.1 201 ...
        if (!Utf8Parser.TryParse(head[9..12], out int status, out _) || status != expected)
        {
            throw new InvalidOperationException($"Answered: {System.Text.Encoding.ASCII.GetString(head)}");
        }

        var at = head.IndexOf("Content-Length: "u8);
        return at >= 0 && Utf8Parser.TryParse(head[(at + 16)..], out int length, out _)
            ? length
            : throw new InvalidOperationException("An answer of unknown length is not read here.");
    }
}

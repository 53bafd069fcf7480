using System.Buffers;
using System.Globalization;
using System.IO.Pipelines;
using System.Text;
using System.Text.Json;
using Derivid.Contracts;
using Microsoft.AspNetCore.Connections;
using Microsoft.AspNetCore.WebUtilities;

namespace Derivid.Api.Http;

/// <summary>
/// Gives a problem for a body to what the server itself refuses because it can't be read as a request: no middleware sees
/// those, and the server answers them with a bare status before it closes the connection.
/// </summary>
/// <remarks>
/// Looks at the beginning of what is sent. Whatever the service answers with a status of 400 and above has a body, so a bare
/// one is the server's. On an endpoint with a certificate of its own it sees nothing but cipher, and changes nothing.
/// </remarks>
internal static class RefusedRequest
{
    /// <summary>The middleware of a connection.</summary>
    /// <param name="connection">The connection.</param>
    /// <param name="next">Serves it.</param>
    public static Task AnswerAsync(ConnectionContext connection, ConnectionDelegate next)
    {
        connection.Transport = new Pipes(connection.Transport);
        return next(connection);
    }

    // Missing: null, it is anything else.
    private static byte[]? Whole(ReadOnlySpan<byte> sent)
    {
        if (!sent.StartsWith("HTTP/1.1 4"u8) || !sent.EndsWith("\r\n\r\n"u8)
            || sent.IndexOf("\r\nContent-Length: 0\r\n"u8) < 0 || sent.IndexOf("\r\nConnection: close\r\n"u8) < 0)
        {
            return null;
        }

        var status = int.Parse(sent["HTTP/1.1 ".Length..][..3], NumberStyles.None, CultureInfo.InvariantCulture);
        var body = JsonSerializer.SerializeToUtf8Bytes(BodyOf(status), WireJson.Context.ProblemBody);
        var head = Encoding.ASCII.GetString(sent).Replace(
            "Content-Length: 0\r\n",
            string.Create(CultureInfo.InvariantCulture, $"Content-Length: {body.Length}\r\nContent-Type: {MediaTypes.Problem}\r\nCache-Control: no-store\r\nX-Content-Type-Options: nosniff\r\n"),
            StringComparison.Ordinal);
        return [.. Encoding.ASCII.GetBytes(head), .. body];
    }

    // What needs no type of its own has none (RFC 9457, 4.2.1).
    private static ProblemBody BodyOf(int status) => status switch
    {
        400 => new Problem(
            ProblemTypes.InvalidRequest,
            "The request could not be read as HTTP; check address and headers. No address holds a byte 0 (%00).").ToBody(),
        408 => Untyped(status, "It didn't arrive in time; send it again."),
        414 => Untyped(status, "The line of method and address may hold at most 8 KB."),
        431 => Untyped(status, "At most 100 headers are read, of 16 KB in all; cookies and tokens count."),
        _ => Untyped(status, "The server refused it before it was read to its end."),
    };

    private static ProblemBody Untyped(int status, string detail) => new()
    {
        Type = "about:blank",
        Title = ReasonPhrases.GetReasonPhrase(status),
        Status = status,
        Detail = detail,
    };

    private sealed class Pipes(IDuplexPipe inner) : IDuplexPipe
    {
        public PipeReader Input => inner.Input;

        public PipeWriter Output { get; } = new Writer(inner.Output);
    }

    private sealed class Writer(PipeWriter inner) : PipeWriter
    {
        private Memory<byte> _room;

        public override bool CanGetUnflushedBytes => inner.CanGetUnflushedBytes;

        public override long UnflushedBytes => inner.UnflushedBytes;

        public override Memory<byte> GetMemory(int sizeHint = 0) => _room = inner.GetMemory(sizeHint);

        public override Span<byte> GetSpan(int sizeHint = 0) => GetMemory(sizeHint).Span;

        public override void Advance(int bytes)
        {
            if (bytes <= _room.Length && Whole(_room.Span[..bytes]) is { } whole)
            {
                inner.Write(whole);
            }
            else
            {
                inner.Advance(bytes);
            }
        }

        public override ValueTask<FlushResult> FlushAsync(CancellationToken cancellationToken = default) => inner.FlushAsync(cancellationToken);

        public override void CancelPendingFlush() => inner.CancelPendingFlush();

        public override void Complete(Exception? exception = null) => inner.Complete(exception);

        public override ValueTask CompleteAsync(Exception? exception = null) => inner.CompleteAsync(exception);
    }
}

using System.Collections.Concurrent;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;

namespace Derivid.Api.Tests;

/// <summary>A JSON body whose second half waits until it is let go.</summary>
public sealed class HeldBody : HttpContent
{
    /// <summary>The header that names it on its way.</summary>
    public const string Header = "Test-Held-Body";

    private readonly byte[] _begun;
    private readonly Task<string> _rest;

    public HeldBody(string begun, Task<string> rest)
    {
        (_begun, _rest) = (Encoding.UTF8.GetBytes(begun), rest);
        Headers.ContentType = new MediaTypeHeaderValue("application/json");
    }

    protected override async Task SerializeToStreamAsync(Stream stream, TransportContext? context)
    {
        var patience = TestContext.Current.CancellationToken;
        await stream.WriteAsync(_begun, patience);
        await stream.FlushAsync(patience);
        await stream.WriteAsync(Encoding.UTF8.GetBytes(await _rest), patience);
    }

    protected override bool TryComputeLength(out long length)
    {
        length = 0;
        return false;
    }
}

/// <summary>Says when the service has read the first part of a <see cref="HeldBody"/>, so that it has judged all that it judges before.</summary>
public sealed class HeldBodies : IStartupFilter
{
    private readonly ConcurrentDictionary<string, TaskCompletionSource> _read = [];

    /// <summary>Sends a request with a body that is held.</summary>
    /// <param name="client">Who sends it.</param>
    /// <param name="message">The request; it gets the body.</param>
    /// <param name="json">The body.</param>
    /// <param name="release">Lets the second half go.</param>
    /// <returns>The response to come, once the service has the first half.</returns>
    public Task<Task<HttpResponseMessage>> SendAsync(HttpClient client, HttpRequestMessage message, string json, Task release)
    {
        return SendAsync(client, message, json[..(json.Length / 2)], RestAsync());

        async Task<string> RestAsync()
        {
            await release;
            return json[(json.Length / 2)..];
        }
    }

    /// <summary>Sends a request whose body is known to its end later only.</summary>
    /// <param name="client">Who sends it.</param>
    /// <param name="message">The request; it gets the body.</param>
    /// <param name="begun">The body's beginning.</param>
    /// <param name="rest">The rest of it.</param>
    /// <returns>The response to come, once the service has the beginning.</returns>
    public async Task<Task<HttpResponseMessage>> SendAsync(HttpClient client, HttpRequestMessage message, string begun, Task<string> rest)
    {
        var patience = TestContext.Current.CancellationToken;
        var name = Guid.NewGuid().ToString();
        message.Headers.Add(HeldBody.Header, name);
        message.Content = new HeldBody(begun, rest);
        // The test client copies each body before it sends the first byte; this one does not.
        var response = SendAsync(new HttpClient { BaseAddress = client.BaseAddress }, client.DefaultRequestHeaders.Authorization, message);
        await Task.WhenAny(ReadOf(name).Task, response).WaitAsync(patience);
        return response;
    }

    private static async Task<HttpResponseMessage> SendAsync(HttpClient plain, AuthenticationHeaderValue? authorization, HttpRequestMessage message)
    {
        using (plain)
        using (message)
        {
            message.Headers.Authorization = authorization;
            return await plain.SendAsync(message, TestContext.Current.CancellationToken);
        }
    }

    public Action<IApplicationBuilder> Configure(Action<IApplicationBuilder> next) => builder =>
    {
        builder.Use((context, rest) =>
        {
            if (context.Request.Headers[HeldBody.Header].ToString() is { Length: > 0 } name)
            {
                context.Request.Body = new FirstRead(context.Request.Body, ReadOf(name));
            }

            return rest(context);
        });
        next(builder);
    };

    private TaskCompletionSource ReadOf(string name) =>
        _read.GetOrAdd(name, _ => new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously));

    private sealed class FirstRead(Stream body, TaskCompletionSource read) : Stream
    {
        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position
        {
            get => throw new NotSupportedException();
            set => throw new NotSupportedException();
        }

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            var count = await body.ReadAsync(buffer, cancellationToken);
            read.TrySetResult();
            return count;
        }

        public override Task<int> ReadAsync(byte[] buffer, int offset, int count, CancellationToken cancellationToken) =>
            ReadAsync(buffer.AsMemory(offset, count), cancellationToken).AsTask();

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override void Flush()
        {
        }

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}

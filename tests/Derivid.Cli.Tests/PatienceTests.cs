using Derivid.Client;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;

namespace Derivid.Cli.Tests;

/// <summary>The typed client against servers that are busy, or none of ours.</summary>
public sealed class PatienceTests
{
    private static CancellationToken Token => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(429, 3)]
    [InlineData(503, 1)]
    public async Task BusyServiceIsAskedAgain(int status, int times)
    {
        var requests = 0;
        await using var server = await ServerAsync(context => ++requests <= times ? Busy(context, status, "0") : Colours(context));
        using var client = Connect(server);
        var colours = await client.Table.ListColoursAsync(cancellationToken: Token).ToListAsync(Token);

        Assert.Equal("yellow", Assert.Single(colours).Key);
        Assert.Equal(times + 1, requests);
    }

    [Theory]
    [InlineData(429, "has had too many requests")]
    [InlineData(503, "can't do it just now")]
    public async Task CommandSaysThatItWaitsAndHowLong(int status, string why)
    {
        var requests = 0;
        await using var server = await ServerAsync(context => ++requests <= 2 ? Busy(context, status, "1") : context.Response.WriteAsync("""{ "items": [] }""", Token));
        using var output = new StringWriter();
        using var error = new StringWriter();
        var around = new Surroundings(
            Stream.Null, output, Stream.Null, error, name => name == CommonOptions.ServerVariable ? server.Urls.First() : null, false, false);

        Assert.Equal(ExitCode.Done, await Tool.RunAsync(["proposals", "list", "--json"], around, Token));
        Assert.Equal(
            [1, 2],
            error.ToString().Split('\n', StringSplitOptions.RemoveEmptyEntries).Select((line, i) =>
            {
                Assert.Equal($"derivid: the service {why} and asks to wait; trying again in 1 s, {i + 1} of at most 3 times.", line);
                return i + 1;
            }));
        // Those who are named in the list are asked for too.
        Assert.Equal(4, requests);
    }

    [Fact]
    public async Task WhatIsAskedForBeyondPatienceIsSaid()
    {
        await using var server = await ServerAsync(context => Busy(context, 429, "3600"));
        using var error = new StringWriter();
        var around = new Surroundings(
            Stream.Null, TextWriter.Null, Stream.Null, error, name => name == CommonOptions.ServerVariable ? server.Urls.First() : null, false, false);

        Assert.Equal(ExitCode.NotReachable, await Tool.RunAsync(["proposals", "list"], around, Token));
        Assert.Equal("derivid: Wait.\n  The service asks to try again in 60 min.\n", error.ToString().ReplaceLineEndings("\n"));
    }

    [Theory]
    [InlineData(429, "0", 4)]
    [InlineData(429, "3600", 1)]
    [InlineData(503, null, 1)]
    [InlineData(500, "0", 1)]
    public async Task PatienceHasAnEnd(int status, string? retryAfter, int expected)
    {
        var requests = 0;
        await using var server = await ServerAsync(context =>
        {
            requests++;
            return Busy(context, status, retryAfter);
        });
        using var client = Connect(server);
        var refusal = await Assert.ThrowsAsync<DerividException>(() => client.Table.GetVersionAsync(1, Token));

        Assert.Equal(expected, requests);
        Assert.Equal(status, (int)refusal.Status);
        Assert.Equal(retryAfter, refusal.RetryAfter?.TotalSeconds.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }

    [Theory]
    [InlineData("0", 1)]
    [InlineData("Thu, 01 Jan 2026 12:00:20 GMT", 20)]
    [InlineData("Thu, 01 Jan 2026 11:00:00 GMT", 1)]
    public async Task DateIsWaitedForAndNobodyHammers(string retryAfter, int seconds)
    {
        var requests = 0;
        var waited = new List<TimeSpan>();
        await using var server = await ServerAsync(context => ++requests == 1 ? Busy(context, 503, retryAfter) : Colours(context));
        using var client = Connect(server, waiting => waited.Add(waiting.For));

        await client.Table.ListColoursAsync(cancellationToken: Token).ToListAsync(Token);

        Assert.Equal([TimeSpan.FromSeconds(seconds)], waited);
    }

    [Theory]
    [InlineData("{}", "proposals", "list")]
    [InlineData("""{ "items": null }""", "proposals", "list")]
    [InlineData("""{ "items": [{}] }""", "proposals", "list")]
    [InlineData("{}", "proposals", "show", "x")]
    [InlineData("{}", "keys", "list")]
    [InlineData("[]", "keys", "list")]
    [InlineData("{}", "diff", "1", "2")]
    public async Task AnswerThatLacksWhatItMustHoldIsSaidSo(string answer, params string[] command)
    {
        await using var server = await ServerAsync(context => context.Response.WriteAsync(answer, Token));
        using var error = new StringWriter();
        var around = new Surroundings(
            Stream.Null, TextWriter.Null, Stream.Null, error, name => name == CommonOptions.ServerVariable ? server.Urls.First() : null, false, false);

        Assert.Equal(ExitCode.NotReachable, await Tool.RunAsync(command, around, Token));
        Assert.Contains("gave an answer that is none of this service's", error.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task AnswerThatIsNoneOfOursIsSaidSo()
    {
        await using var server = await ServerAsync(context => context.Response.WriteAsync("<html>Welcome</html>", Token));
        await using var gone = await ServerAsync(context =>
        {
            context.Response.StatusCode = 404;
            return Task.CompletedTask;
        });
        using var client = Connect(server);
        using var lost = Connect(gone);
        var fault = await Assert.ThrowsAsync<HttpRequestException>(() => client.Table.GetVersionAsync(1, Token));
        var refusal = await Assert.ThrowsAsync<DerividException>(() => lost.Table.GetVersionAsync(1, Token));

        Assert.Contains("is this its address", fault.Message, StringComparison.Ordinal);
        Assert.Equal("about:blank", refusal.Type);
        Assert.Contains("address", refusal.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task KeyIsNotCarriedToAnotherHost()
    {
        var visited = false;
        await using var other = await ServerAsync(context =>
        {
            visited = true;
            return Colours(context);
        });
        await using var server = await ServerAsync(context => context.Response.WriteAsync(
            $$"""{ "items": [], "next": "{{other.Urls.First()}}/api/v1/colours" }""", Token));
        using var client = Connect(server);

        await Assert.ThrowsAsync<HttpRequestException>(
            () => client.Table.ListColoursAsync(cancellationToken: Token).ToListAsync(Token).AsTask());
        Assert.False(visited);
    }

    private static DerividClient Connect(WebApplication server, Action<Waiting>? whenWaiting = null) =>
        DerividClient.Connect(new Uri(server.Urls.First()), time: new NoWaiting(), whenWaiting: whenWaiting);

    private static Task Colours(HttpContext context) => context.Response.WriteAsync(
        """{ "items": [{ "key": "yellow", "name": "yellow", "rank": 0, "synonyms": [] }] }""", Token);

    private static Task Busy(HttpContext context, int status, string? retryAfter)
    {
        context.Response.StatusCode = status;
        context.Response.Headers.RetryAfter = retryAfter;
        context.Response.ContentType = "application/problem+json";
        return context.Response.WriteAsync(
            $$"""{ "type": "urn:derivid:problem:x", "title": "x", "status": {{status}}, "detail": "Wait." }""", Token);
    }

    private static async Task<WebApplication> ServerAsync(RequestDelegate answer)
    {
        var builder = WebApplication.CreateSlimBuilder();
        builder.Logging.ClearProviders();
        var server = builder.Build();
        server.Urls.Add("http://127.0.0.1:0");
        server.Run(answer);
        await server.StartAsync(Token);
        return server;
    }

    // A clock that stands at noon and whose timers have run out when they are made.
    private sealed class NoWaiting : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() => new(2026, 1, 1, 12, 0, 0, TimeSpan.Zero);

        public override ITimer CreateTimer(TimerCallback callback, object? state, TimeSpan dueTime, TimeSpan period) =>
            System.CreateTimer(callback, state, TimeSpan.Zero, period);
    }
}

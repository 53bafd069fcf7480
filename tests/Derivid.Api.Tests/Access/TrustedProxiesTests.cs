using System.Net;
using System.Net.Http.Headers;
using Derivid.Api.Access;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.Extensions.Configuration;

namespace Derivid.Api.Tests.Access;

/// <summary>Whose allowance a request spends that came through a proxy; the tests' own client is the proxy.</summary>
public sealed class TrustedProxiesTests
{
    private const int Allowance = 4;
    private const string Table = "/api/v1/table-versions/1";

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("")]
    [InlineData("192.0.2.0/24, 2001:db8::/32")]
    public async Task HeaderOfAnybodyElseIsIgnored(string trusted)
    {
        var answered = await AnsweredAsync(trusted, sender => $"203.0.113.{sender}");

        // An allowance of 4 a minute grows by one in 15 s; while a slow machine asks, one or two more may come in.
        Assert.InRange(answered, Allowance, Allowance + 2);
    }

    [Theory]
    [InlineData("127.0.0.1")]
    [InlineData("192.0.2.7,127.0.0.0/8")]
    [InlineData("::ffff:127.0.0.1, 127.0.0.1")]
    public async Task EachSenderBehindATrustedProxyHasAnAllowanceOfTheirOwn(string trusted)
    {
        Assert.Equal(3 * Allowance, await AnsweredAsync(trusted, sender => $"203.0.113.{sender % 3}"));
    }

    [Theory]
    [InlineData("127.0.0.1", 3 * Allowance, 3 * Allowance)]
    [InlineData("", Allowance, Allowance + 2)]
    public async Task MadeUpKeysBehindATrustedProxyAreCountedBySender(string trusted, int least, int most)
    {
        var lookedUp = await AnsweredAsync(
            trusted, sender => $"203.0.113.{sender % 3}", () => KeyText.New().Reveal(), HttpStatusCode.Unauthorized);

        Assert.InRange(lookedUp, least, most);
    }

    [Fact]
    public async Task WhatASenderWritesInFrontOfItsAddressIsIgnored()
    {
        var answered = await AnsweredAsync("127.0.0.1", sender => $"198.51.100.{sender}, 203.0.113.7");

        Assert.InRange(answered, Allowance, Allowance + 2);
    }

    [Fact]
    public async Task TrustedProxiesInARowAreAllPassedOver()
    {
        Assert.Equal(
            3 * Allowance,
            await AnsweredAsync("127.0.0.1, 10.42.0.0/16", sender => $"203.0.113.{sender % 3}, 10.42.7.{sender}"));
    }

    [Theory]
    [InlineData("proxy.example.org")]
    [InlineData("10.42.0.0/33")]
    public void EntryThatIsNoNetworkStopsTheStart(string entry)
    {
        var settings = new ConfigurationBuilder()
            .AddInMemoryCollection([new("Access:TrustedProxies", "127.0.0.1, " + entry)]).Build();

        var refusal = Assert.Throws<SettingException>(() => AccessSettings.Read(settings));

        Assert.Contains($"Access:TrustedProxies holds '{entry}'", refusal.Message, StringComparison.Ordinal);
    }

    /// <summary>How many of three allowances' requests are answered, and not refused for want of one.</summary>
    private static async Task<int> AnsweredAsync(
        string trusted, Func<int, string> forwardedFor, Func<string>? key = null, HttpStatusCode expected = HttpStatusCode.OK)
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(
            database.ConnectionString,
            null,
            ("RateLimits:AnonymousRequestsPerMinute", $"{Allowance}"),
            ("Access:TrustedProxies", trusted));
        using var client = await service.StartAsync();
        var answered = 0;
        for (var sender = 0; sender < 3 * Allowance; sender++)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, Table);
            request.Headers.Add("X-Forwarded-For", forwardedFor(sender));
            request.Headers.Authorization = key is null ? null : new AuthenticationHeaderValue("Bearer", key());
            using var response = await client.SendAsync(request, Cancellation);
            answered += response.StatusCode == expected ? 1 : 0;
        }

        return answered;
    }
}

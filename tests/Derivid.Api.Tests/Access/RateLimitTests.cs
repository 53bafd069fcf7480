using System.Net;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.Extensions.Configuration;

namespace Derivid.Api.Tests.Access;

public sealed class RateLimitTests : IAsyncLifetime
{
    private const string Table = "/api/v1/table-versions/1";
    private const string Batch = """{ "items": [{ "observation": { "meltingPoint": "48" } }] }""";

    private readonly SqliteDatabase _database = new();
    private ServiceUnderTest? _service;
    private HttpClient? _anonymous;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _service = new ServiceUnderTest(
            _database.ConnectionString,
            null,
            ("RateLimits:RequestsPerMinute", "6"),
            ("RateLimits:AnonymousRequestsPerMinute", "4"),
            ("RateLimits:BatchesPerMinute", "2"));
        _anonymous = await _service.StartAsync();
    }

    public async ValueTask DisposeAsync()
    {
        _anonymous!.Dispose();
        await _service!.DisposeAsync();
        await _database.DisposeAsync();
    }

    [Fact]
    public async Task EachKeyHasAnAllowanceOfItsOwnAndTheAddressAnother()
    {
        using var first = await _service!.ClientAsAsync(Role.Student);
        using var second = await _service.ClientAsAsync(Role.Student);

        // An allowance of 6 a minute grows by one in 10 s; while a slow machine asks, one more may come in.
        Assert.InRange(await AnsweredBeforeRefusalAsync(first), 6, 7);
        Assert.InRange(await AnsweredBeforeRefusalAsync(second), 6, 7);
        Assert.InRange(await AnsweredBeforeRefusalAsync(_anonymous!), 4, 5);
    }

    [Fact]
    public async Task RefusalSaysWhenToGoOn()
    {
        await AnsweredBeforeRefusalAsync(_anonymous!);

        using var refused = await _anonymous!.GetAsync(Table, Cancellation);
        using var health = await _anonymous.GetAsync("/health/live", Cancellation);

        var problem = await refused.ProblemAsync(ProblemTypes.TooManyRequests);
        var wait = refused.Headers.RetryAfter!.Delta!.Value;
        Assert.InRange(wait.TotalSeconds, 1, 15);
        Assert.Contains($"Wait {wait.TotalSeconds:0} s", (string)problem["detail"]!, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, health.StatusCode);
    }

    [Fact]
    public async Task WrongKeysSpendTheAllowanceOfTheirAddress()
    {
        using var guessing = _service!.ClientWith(KeyText.New().Reveal());
        for (var guess = 0; guess < 4; guess++)
        {
            using var wrong = await guessing.GetAsync(Table, Cancellation);
            await wrong.ProblemAsync(ProblemTypes.KeyRequired);
        }

        using var refused = await guessing.GetAsync(Table, Cancellation);
        using var anonymous = await _anonymous!.GetAsync(Table, Cancellation);
        using var known = _service.ClientWith(ServiceUnderTest.AdministratorKey);

        await refused.ProblemAsync(ProblemTypes.TooManyRequests);
        await anonymous.ProblemAsync(ProblemTypes.TooManyRequests);
        await known.JsonAtAsync(Table);
    }

    [Fact]
    public async Task BatchesAreCountedByThemselvesToo()
    {
        using var client = await _service!.ClientAsAsync(Role.Student);
        for (var batch = 0; batch < 2; batch++)
        {
            using var answered = await client.PostAsync(Requests.Batches + "?store=false", Batch);
            await answered.JsonAsync(HttpStatusCode.OK);
        }

        using var refused = await client.PostAsync(Requests.Batches + "?store=false", Batch);

        await refused.ProblemAsync(ProblemTypes.TooManyRequests);
        await client.JsonAtAsync(Table);
    }

    [Fact]
    public void NegativeLimitStopsTheStart()
    {
        var settings = new ConfigurationBuilder()
            .AddInMemoryCollection([new("RateLimits:BatchesPerMinute", "-1")]).Build();

        Assert.Throws<InvalidOperationException>(() => RateLimitSettings.Read(settings));
    }

    private static async Task<int> AnsweredBeforeRefusalAsync(HttpClient client)
    {
        for (var answered = 0; ; answered++)
        {
            using var response = await client.GetAsync(Table, Cancellation);
            if (response.StatusCode == HttpStatusCode.TooManyRequests)
            {
                return answered;
            }

            Assert.Equal(HttpStatusCode.OK, response.StatusCode);
        }
    }
}

using System.Net;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.Extensions.Configuration;

namespace Derivid.Api.Tests.Access;

public sealed class RateLimitTests : IAsyncLifetime
{
    private const string Table = "/api/v1/table-versions/1";

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
            ("RateLimits:BatchItemsPerMinute", "1000"));
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

        // Three keys were used for the first time, which was counted against their own share of the address they came from.
        Assert.InRange(await AnsweredBeforeRefusalAsync(_anonymous!), 4, 5);
    }

    // Bodies that never end would hold memory and connections, and each is one request only.
    [Fact]
    public async Task OneSenderHasOnlySoManyRequestsUnderWay()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString, null, ("RateLimits:RequestsAtOnce", "2"));
        using var nobody = await service.StartAsync();
        using var other = await service.ClientAsAsync(Role.Student);
        var release = new TaskCompletionSource();
        var held = new List<Task<HttpResponseMessage>>();
        for (var count = 0; count < 2; count++)
        {
            using var message = new HttpRequestMessage(HttpMethod.Post, Requests.Identifications + "?store=false");
            held.Add(await service.Held.SendAsync(nobody, message, Requests.Propanone, release.Task));
        }

        // Others wait their turn, with a body or without.
        var waiting = nobody.IdentifyAsync(Requests.Propanone);
        var reading = nobody.GetAsync(Table, Cancellation);
        await other.IdentifiedAsync(Requests.Propanone);
        using var health = await nobody.GetAsync("/health/live", Cancellation);
        Assert.Equal(HttpStatusCode.OK, health.StatusCode);

        release.SetResult();
        foreach (var answer in await Task.WhenAll([.. held, waiting, reading]))
        {
            Assert.True(answer.IsSuccessStatusCode);
            answer.Dispose();
        }

        await nobody.IdentifiedAsync(Requests.Propanone);
    }

    [Fact]
    public async Task SomeHundredsWaitForAPlaceAndNoMore()
    {
        using var places = new SenderPlaces(1);
        using var taken = await places.TakeAsync("a", false, Cancellation);
        using var other = await places.TakeAsync("b", false, Cancellation);
        var waiting = Enumerable.Range(0, 400).Select(_ => places.TakeAsync("a", false, Cancellation)).ToList();
        using var refused = await places.TakeAsync("a", false, Cancellation);

        Assert.Null(taken.Refusal ?? other.Refusal);
        Assert.DoesNotContain(waiting, place => place.IsCompleted);
        Assert.NotNull(refused.Refusal);
    }

    // Each is held several times over while it is understood: a hundred forms of 4 MB took the memory.
    [Fact]
    public async Task FewLargeBodiesOfOneSenderAreReadAtOnce()
    {
        using var places = new SenderPlaces(100);
        var large = Enumerable.Range(0, 6).Select(_ => places.TakeAsync("a", true, Cancellation)).ToList();
        using var small = await places.TakeAsync("a", false, Cancellation);
        using var ofAnother = await places.TakeAsync("b", true, Cancellation);

        Assert.Equal(4, large.Count(place => place.IsCompleted));
        Assert.Null(small.Refusal ?? ofAnother.Refusal);
        (await large[0]).Dispose();
        Assert.True((await large[4]).HasWaited);
        Assert.False((await large[1]).HasWaited);
    }

    // A class behind one address, all at once, by the limits that are set unless somebody says otherwise.
    [Fact]
    public async Task ClassBehindOneAddressIsAnswered()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString, null, ("RateLimits:RequestsAtOnce", "100"));
        using var nobody = await service.StartAsync();

        var answers = await Task.WhenAll(Enumerable.Range(0, 300).Select(number => number % 3 == 0
            ? nobody.GetAsync("/", Cancellation)
            : nobody.PostAsync(Requests.Identifications + "?store=false", Requests.Propanone)));

        Assert.All(answers, answer => Assert.Equal(HttpStatusCode.OK, answer.StatusCode));
    }

    [Fact]
    public async Task WhoIsNotSignedInSendsSmallFormsOnly()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString);
        using var nobody = await service.StartAsync();
        using var form = new FormUrlEncodedContent([new("key", new string('a', 70_000))]);

        using var refused = await nobody.PostAsync(new Uri("/sign-in", UriKind.Relative), form, Cancellation);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, refused.StatusCode);
    }

    // What is stored stays for as long as the operator says: one key could fill the disk within a night.
    [Fact]
    public async Task OneSenderHasOnlySoManyAnswersStored()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString, null, ("RateLimits:StoredPerHour", "1000"));
        (await service.StartAsync()).Dispose();
        using var greedy = await service.ClientAsAsync(Role.Student);
        using var other = await service.ClientAsAsync(Role.Student);
        var items = string.Join(',', Enumerable.Repeat("""{ "observation": { "maximumCandidates": 1 } }""", 1000));
        using var batch = await greedy.PostAsync(Requests.Batches, $$"""{ "items": [{{items}}] }""");
        await batch.JsonAsync(HttpStatusCode.OK);

        // The allowance grows by 17 in about a minute; a slow machine may bring some of it.
        HttpResponseMessage refused;
        do
        {
            refused = await greedy.PostAsync(Requests.Identifications, Requests.Propanone);
        }
        while (refused.IsSuccessStatusCode);

        using (refused)
        {
            var problem = await refused.ProblemAsync(ProblemTypes.TooManyRequests);
            Assert.Contains("store=false", (string)problem["detail"]!, StringComparison.Ordinal);
        }

        using var unstored = await greedy.PostAsync(Requests.Identifications + "?store=false", Requests.Propanone);
        Assert.Equal(HttpStatusCode.OK, unstored.StatusCode);
        await other.IdentifiedAsync(Requests.Propanone);
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
    public async Task WrongKeysSpendTheShareOfKeysNotMetAndNoOther()
    {
        using var known = _service!.ClientWith(ServiceUnderTest.AdministratorKey);
        await known.JsonAtAsync(Table);
        using var guessing = _service.ClientWith(KeyText.New().Reveal());
        var refused = 0;
        for (var guess = 0; guess < 8; guess++)
        {
            using var wrong = await guessing.GetAsync(Table, Cancellation);
            refused += wrong.StatusCode == HttpStatusCode.TooManyRequests ? 1 : 0;
        }

        using var anonymous = await _anonymous!.GetAsync(Table, Cancellation);
        using var page = await _anonymous.GetAsync("/sign-in", Cancellation);

        // While a slow machine asks, one or two more may come in.
        Assert.InRange(refused, 2, 5);
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (anonymous.StatusCode, page.StatusCode));
        await known.JsonAtAsync(Table);
    }

    // Whoever asks for all there is from the address of a class keeps nobody of it from signing in.
    [Fact]
    public async Task WhoAsksWithoutAKeyKeepsNoKeyAndNoSignInOut()
    {
        await AnsweredBeforeRefusalAsync(_anonymous!);
        using var unmet = _service!.ClientWith(ServiceUnderTest.AdministratorKey);
        using var signIn = await _anonymous!.GetAsync("/sign-in", Cancellation);

        await unmet.JsonAtAsync(Table);
        Assert.Equal(HttpStatusCode.OK, signIn.StatusCode);
    }

    [Fact]
    public async Task MadeUpKeysAreCountedBeforeTheyAreLookedUp()
    {
        var guesses = new List<HttpStatusCode>();
        for (var guess = 0; guess < 20; guess++)
        {
            using var guessing = _service!.ClientWith(KeyText.New().Reveal());
            using var refused = await guessing.GetAsync("/api/v1/keys/current", Cancellation);
            guesses.Add(refused.StatusCode);
        }

        // Good as it is, this process has not met it yet.
        using var administrator = _service!.ClientWith(ServiceUnderTest.AdministratorKey);
        using var unmet = await administrator.GetAsync("/api/v1/keys/current", Cancellation);

        Assert.InRange(guesses.Count(status => status == HttpStatusCode.Unauthorized), 4, 6);
        Assert.InRange(guesses.Count(status => status == HttpStatusCode.TooManyRequests), 14, 16);
        await unmet.ProblemAsync(ProblemTypes.TooManyRequests);
    }

    [Fact]
    public async Task KeyMetBeforeDoesNotShareTheAddressWithWhoeverGuesses()
    {
        using var known = await _service!.ClientAsAsync(Role.Student);
        await known.JsonAtAsync(Table);
        for (var guess = 0; guess < 10; guess++)
        {
            using var guessing = _service.ClientWith(KeyText.New().Reveal());
            using var refused = await guessing.GetAsync(Table, Cancellation);
        }

        Assert.InRange(await AnsweredBeforeRefusalAsync(known), 5, 6);
    }

    [Fact]
    public async Task BatchesAreCountedByTheirItems()
    {
        using var client = await _service!.ClientAsAsync(Role.Student);
        using var other = await _service.ClientAsAsync(Role.Student);
        using var most = await client.PostAsync(Requests.Batches + "?store=false", Batch(1000));
        using var tooMany = await client.PostAsync(Requests.Batches + "?store=false", Batch(1000));
        using var ofAnother = await other.PostAsync(Requests.Batches + "?store=false", Batch(1));

        await most.JsonAsync(HttpStatusCode.OK);
        var problem = await tooMany.ProblemAsync(ProblemTypes.TooManyRequests);
        Assert.Contains("by their items", (string)problem["detail"]!, StringComparison.Ordinal);
        Assert.InRange(tooMany.Headers.RetryAfter!.Delta!.Value.TotalSeconds, 1, 61);
        await client.JsonAtAsync(Table);
        await ofAnother.JsonAsync(HttpStatusCode.OK);
    }

    [Theory]
    [InlineData("RequestsPerMinute", "-1")]
    [InlineData("BatchItemsPerMinute", "-1")]
    [InlineData("BatchItemsPerMinute", "999")]
    public void LimitOutOfBoundsStopsTheStart(string limit, string value)
    {
        var settings = new ConfigurationBuilder().AddInMemoryCollection([new($"RateLimits:{limit}", value)]).Build();

        Assert.Throws<SettingException>(() => RateLimitSettings.Read(settings));
    }

    private static string Batch(int items) =>
        $$"""{ "items": [{{string.Join(',', Enumerable.Repeat("""{ "observation": { "meltingPoint": "48", "maximumCandidates": 1 } }""", items))}}] }""";

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

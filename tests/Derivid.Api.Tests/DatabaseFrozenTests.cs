using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Http.Headers;
using Derivid.Api.Http;
using Derivid.Api.Tests.Teaching;
using Derivid.Core.Teaching;
using Derivid.Testing;
using Microsoft.Data.Sqlite;

namespace Derivid.Api.Tests;

/// <summary>
/// The database's processes stand still while the service runs: unlike a database that is gone, it refuses nothing, and
/// whoever asks it waits.
/// </summary>
[Collection(nameof(Alone))]
[Trait("Database", "PostgreSQL")]
public sealed class DatabaseFrozenTests : IDisposable
{
    private const int AtOnce = 20;
    private const string Unstored = Requests.Identifications + "?store=false";
    private const string List = Requests.Keys;

    private static readonly TimeSpan FromMemory = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan UntilItIsKnown = TimeSpan.FromSeconds(3);
    private static readonly TimeSpan OnceItIsKnown = TimeSpan.FromMilliseconds(500);

    // SQLite's provider waits where it stands; with one processor the next thread comes after half a second.
    private static readonly TimeSpan UntilAThreadIsFree = TimeSpan.FromSeconds(1.5);
    private static readonly TimeSpan UntilItIsLocked = TimeSpan.FromSeconds(8);
    private static readonly TimeSpan UntilServedAgain = TimeSpan.FromSeconds(5);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("derivid-frozen-");

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public void Dispose() => _folder.Delete(recursive: true);

    [Fact]
    public async Task WhatNeedsNoDatabaseIsAnsweredAtOnceAndTheRestIsToldSoon()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: false);
        await using var service = await ServiceProcess.StartAsync(
            cluster.ConnectionString, _folder.FullName, ("Access:AdministratorKey", ServiceUnderTest.AdministratorKey));
        var anybody = service.Client;
        using var administrator = With(anybody, ServiceUnderTest.AdministratorKey);
        using var student = With(anybody, (await administrator.MakeKeyAsync(Role.Student)).GetProperty("key").GetString()!);
        var calm = await WarmUpAsync(anybody, student, administrator);
        calm.Tell("Before");

        await cluster.FreezeAsync();

        var first = await AllAtOnceAsync(anybody, student, administrator);
        first.Tell("Frozen, first");
        first.Hold(calm, UntilItIsKnown);
        var later = await AllAtOnceAsync(anybody, student, administrator);
        later.Tell("Frozen, later");
        later.Hold(calm, OnceItIsKnown);

        await cluster.ThawAsync();

        var since = Stopwatch.StartNew();
        while (!await IsServedAsync(administrator, student))
        {
            Assert.True(since.Elapsed < UntilServedAgain, "Nothing stored is served again.");
            await Task.Delay(50, Patience);
        }

        TestContext.Current.SendDiagnosticMessage("Served again {0:0} ms after the database went on.", since.Elapsed.TotalMilliseconds);
    }

    [Fact]
    public async Task FileThatAnotherProcessWritesToHoldsUpNothingElse()
    {
        await using var database = new SqliteDatabase();
        await using var service = await ServiceProcess.StartAsync(
            database.ConnectionString, _folder.FullName, ("Access:AdministratorKey", ServiceUnderTest.AdministratorKey));
        using var administrator = With(service.Client, ServiceUnderTest.AdministratorKey);
        using var student = With(service.Client, (await administrator.MakeKeyAsync(Role.Student)).GetProperty("key").GetString()!);
        var calm = await WarmUpAsync(service.Client, student, administrator);
        await using var writer = new SqliteConnection(database.ConnectionString);
        await writer.OpenAsync(Patience);
        await using var transaction = await writer.BeginTransactionAsync(Patience);

        var storing = Enumerable.Range(0, AtOnce)
            .Select(i => AskedAsync(() => service.Client.PostAsync(Requests.Identifications, $$"""{ "meltingPoint": "{{100 + i}}" }""")))
            .ToList();
        var live = await AskedAsync(() => service.Client.GetAsync("/health/live", Patience));
        var unstored = await AskedAsync(() => student.PostAsync(Unstored, Requests.Propanone));

        calm.Tell("Before");
        TestContext.Current.SendDiagnosticMessage("Locked: live {0:0} ms, unstored {1:0} ms.", live.Took.TotalMilliseconds, unstored.Took.TotalMilliseconds);
        Assert.All([live, unstored], answer => Assert.Equal(HttpStatusCode.OK, answer.Status));
        Assert.All([live, unstored], answer => Assert.True(answer.Took < UntilAThreadIsFree + calm.FromMemory.Max(known => known.Took), answer.ToString()));
        Assert.All(await Task.WhenAll(storing), answer =>
        {
            Assert.Equal(ProblemTypes.StorageUnavailable.Urn, answer.Problem);
            Assert.True(answer.Took < UntilItIsLocked, answer.ToString());
        });
    }

    private static HttpClient With(HttpClient like, string key)
    {
        var client = new HttpClient { BaseAddress = like.BaseAddress };
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return client;
    }

    // What is asked for the first time takes its time, and where the machine is busy an answer may fail for that.
    private static async Task<Round> WarmUpAsync(HttpClient anybody, HttpClient student, HttpClient administrator)
    {
        for (var served = 0; ;)
        {
            var round = await AllAtOnceAsync(anybody, student, administrator);
            served += round.FromMemory.All(answer => answer.Status == HttpStatusCode.OK)
                && round.FromDatabase.All(answer => answer.Problem is null) ? 1 : 0;
            if (served == 3)
            {
                return round;
            }
        }
    }

    private static async Task<bool> IsServedAsync(HttpClient administrator, HttpClient student)
    {
        using var list = await administrator.GetAsync(List, Patience);
        using var stored = await student.PostAsync(Requests.Identifications, Requests.Propanone);
        return list.IsSuccessStatusCode && stored.IsSuccessStatusCode;
    }

    private static async Task<Round> AllAtOnceAsync(HttpClient anybody, HttpClient student, HttpClient administrator)
    {
        var memory = new List<Task<Answer>>();
        var database = new List<Task<Answer>>();
        for (var i = 0; i < AtOnce; i++)
        {
            var observation = string.Create(CultureInfo.InvariantCulture, $$"""{ "meltingPoint": "{{40 + i}}" }""");
            database.Add(AskedAsync(() => i % 2 == 0 ? administrator.GetAsync(List, Patience) : anybody.PostAsync(Requests.Identifications, observation)));
            memory.Add(AskedAsync(() => (i % 3) switch
            {
                0 => anybody.GetAsync("/health/live", Patience),
                1 => anybody.PostAsync(Unstored, observation),
                _ => student.PostAsync(Unstored, observation),
            }));
        }

        return new Round(await Task.WhenAll(memory), await Task.WhenAll(database));
    }

    private static async Task<Answer> AskedAsync(Func<Task<HttpResponseMessage>> ask)
    {
        var since = Stopwatch.StartNew();
        using var response = await ask();
        var problem = response.StatusCode == HttpStatusCode.ServiceUnavailable ? (string?)(await response.AnyProblemAsync())["type"] : null;
        return new Answer(response.StatusCode, problem, response.Headers.RetryAfter?.Delta, since.Elapsed);
    }

    private sealed record Answer(HttpStatusCode Status, string? Problem, TimeSpan? RetryAfter, TimeSpan Took);

    private sealed record Round(IReadOnlyList<Answer> FromMemory, IReadOnlyList<Answer> FromDatabase)
    {
        private TimeSpan Slowest => FromMemory.Max(answer => answer.Took);

        public void Tell(string when) => TestContext.Current.SendDiagnosticMessage(
            "{0}: from memory {1:0} ms at most, from the database {2:0} ms at most.",
            when, Slowest.TotalMilliseconds, FromDatabase.Max(answer => answer.Took.TotalMilliseconds));

        // A busy machine gets as much longer as it took before.
        public void Hold(Round calm, TimeSpan fromDatabase)
        {
            Assert.All(FromMemory, answer =>
            {
                Assert.Equal(HttpStatusCode.OK, answer.Status);
                Assert.True(answer.Took < DatabaseFrozenTests.FromMemory + calm.Slowest, answer.ToString());
            });
            Assert.All(FromDatabase, answer =>
            {
                Assert.Equal(ProblemTypes.StorageUnavailable.Urn, answer.Problem);
                Assert.NotNull(answer.RetryAfter);
                Assert.True(answer.Took < fromDatabase + calm.Slowest, answer.ToString());
            });
        }
    }
}

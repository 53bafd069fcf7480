using System.Data.Common;
using System.Net;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Store;
using Derivid.Testing;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore.Diagnostics;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests.Access;

/// <summary>What made-up keys cost the database, on one engine.</summary>
public abstract class KeyLookupTests(Func<Task<ITestDatabase>> newDatabase)
{
    private const string Table = "/api/v1/table-versions/1";
    private const int MadeUp = 2000;
    private const int Senders = 200;

    // Of the service itself meanwhile, and of keys that are known.
    private const int OtherQuestions = 20;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ThousandsOfMadeUpKeysCostAHandfulOfQuestionsAndANewKeyWorksAmongThem()
    {
        await using var database = await newDatabase();
        var counted = new Questions();
        await using var service = new ServiceUnderTest(
            database.ConnectionString,
            services => services.ConfigureDbContext<DerividContext>(options => options.AddInterceptors(counted)));
        using var anybody = await service.StartAsync();
        var before = counted.Count;
        var since = System.Diagnostics.Stopwatch.StartNew();

        var refused = Enumerable.Range(0, MadeUp).Select(_ => StatusAsync(anybody, KeyText.New().Reveal())).ToList();
        using var student = await service.ClientAsAsync(Role.Student);
        await student.JsonAtAsync("/api/v1/keys/current");
        using var administrator = service.ClientWith(ServiceUnderTest.AdministratorKey);
        await administrator.JsonAtAsync("/api/v1/keys/current");

        Assert.All(await Task.WhenAll(refused), status => Assert.Equal(HttpStatusCode.Unauthorized, status));
        TestContext.Current.SendDiagnosticMessage("{0} made-up keys in {2:0.0} s, {1} questions to the database.", MadeUp, counted.Count - before, since.Elapsed.TotalSeconds);
        Assert.InRange(counted.Count - before, 1, KeyLookups.AtOnce + OtherQuestions + (since.Elapsed / KeyLookups.Pause));
    }

    [Fact]
    public async Task KnownKeyIsLookedUpEachTimeAndRefusedOnceRevoked()
    {
        await using var database = await newDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString);
        using var anybody = await service.StartAsync();
        using var administrator = service.ClientWith(ServiceUnderTest.AdministratorKey);
        var made = await administrator.MakeKeyAsync(Role.Student);
        using var student = service.ClientWith(made.GetProperty("key").GetString());
        await student.JsonAtAsync("/api/v1/keys/current");
        using var revoked = await administrator.DeleteAsync(
            $"/api/v1/keys/{made.GetProperty("details").GetProperty("id").GetString()}", Patience);
        using var refused = await student.GetAsync(Table, Patience);
        using var again = await student.GetAsync(Table, Patience);

        Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
        await refused.ProblemAsync(ProblemTypes.KeyRequired);
        await again.ProblemAsync(ProblemTypes.KeyRequired);
    }

    // Whoever sent a key a hundred times at once had a hundred connections of the database.
    [Fact]
    public async Task KnownKeySentManyTimesAtOnceIsLookedUpOnceAfterTheOtherAndRefusedOnceRevoked()
    {
        await using var database = await newDatabase();
        var counted = new Questions();
        var arrived = new Arrivals();
        await using var service = new ServiceUnderTest(
            database.ConnectionString,
            services => services.AddSingleton<IStartupFilter>(arrived).ConfigureDbContext<DerividContext>(options => options.AddInterceptors(counted)));
        using var anybody = await service.StartAsync();
        using var administrator = service.ClientWith(ServiceUnderTest.AdministratorKey);
        for (var round = 0; round < 5; round++)
        {
            var made = await administrator.MakeKeyAsync(Role.Student);
            var key = made.GetProperty("key").GetString()!;
            Assert.Equal(HttpStatusCode.OK, await StatusAsync(anybody, key));

            // The first question is held until all are here, however slowly they come.
            var (sooner, before) = (arrived.Count, counted.Count);
            counted.Hold();
            var sent = Enumerable.Range(0, Senders).Select(_ => StatusAsync(anybody, key)).ToList();
            while (arrived.Count < sooner + Senders)
            {
                await Task.Delay(10, Patience);
            }

            counted.Release();
            Assert.All(await Task.WhenAll(sent), status => Assert.Equal(HttpStatusCode.OK, status));
            Assert.InRange(counted.Count - before, 1, Senders / 2);
            Assert.Equal(1, counted.MostAtOnce);

            var hammering = Enumerable.Range(0, 50).Select(_ => StatusAsync(anybody, key)).ToList();
            using var revoked = await administrator.DeleteAsync($"/api/v1/keys/{made.GetProperty("details").GetProperty("id").GetString()}", Patience);
            Assert.Equal(HttpStatusCode.Unauthorized, await StatusAsync(anybody, key));
            await Task.WhenAll(hammering);
        }
    }

    private static async Task<HttpStatusCode> StatusAsync(HttpClient client, string key)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, Table);
        request.Headers.Authorization = new("Bearer", key);
        using var response = await client.SendAsync(request, Patience);
        return response.StatusCode;
    }

    /// <summary>Counts the questions about keys, and can hold them.</summary>
    private sealed class Questions : DbCommandInterceptor
    {
        private readonly Lock _gate = new();
        private Task _held = Task.CompletedTask;
        private TaskCompletionSource _release = new();
        private int _count;
        private int _atOnce;
        private int _mostAtOnce;

        public int Count
        {
            get
            {
                lock (_gate)
                {
                    return _count;
                }
            }
        }

        /// <summary>How many were under way at once at most, since they were last held.</summary>
        public int MostAtOnce
        {
            get
            {
                lock (_gate)
                {
                    return _mostAtOnce;
                }
            }
        }

        public void Hold()
        {
            lock (_gate)
            {
                (_release, _mostAtOnce) = (new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously), 0);
                _held = _release.Task;
            }
        }

        public void Release() => _release.SetResult();

        public override async ValueTask<InterceptionResult<DbDataReader>> ReaderExecutingAsync(
            DbCommand command, CommandEventData eventData, InterceptionResult<DbDataReader> result, CancellationToken cancellationToken = default)
        {
            if (!IsOfKeys(command))
            {
                return result;
            }

            Task held;
            lock (_gate)
            {
                _count++;
                _mostAtOnce = Math.Max(_mostAtOnce, ++_atOnce);
                held = _held;
            }

            await held;
            return result;
        }

        public override ValueTask<DbDataReader> ReaderExecutedAsync(
            DbCommand command, CommandExecutedEventData eventData, DbDataReader result, CancellationToken cancellationToken = default)
        {
            if (IsOfKeys(command))
            {
                lock (_gate)
                {
                    _atOnce--;
                }
            }

            return new(result);
        }

        private static bool IsOfKeys(DbCommand command) => command.CommandText.Contains("api_keys", StringComparison.Ordinal);
    }

    /// <summary>Counts the requests that have come in, before anything is asked of them.</summary>
    private sealed class Arrivals : IStartupFilter
    {
        private int _count;

        public int Count => Volatile.Read(ref _count);

        public Action<IApplicationBuilder> Configure(Action<IApplicationBuilder> next) => app =>
        {
            app.Use((HttpContext context, RequestDelegate then) =>
            {
                Interlocked.Increment(ref _count);
                return then(context);
            });
            next(app);
        };
    }

    public sealed class OnSqlite() : KeyLookupTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : KeyLookupTests(async () => await server.NewDatabaseAsync());
}

using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Text.RegularExpressions;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Access;

/// <summary>Two processes of the service on one PostgreSQL database.</summary>
[Trait("Database", "PostgreSQL")]
public sealed partial class TwoProcessesTests(PostgreSqlServer server)
{
    private const int Rounds = 20;

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task OnePrintsTheFirstKeyOnceAndRevocationHoldsForBothAtOnce()
    {
        await using var database = await server.NewDatabaseAsync();
        var folder = Directory.CreateTempSubdirectory("derivid-processes-");
        try
        {
            var starting = Enumerable.Range(0, 2)
                .Select(_ => ServiceProcess.StartAsync(database.ConnectionString, folder.FullName)).ToList();
            await using var first = await starting[0];
            await using var second = await starting[1];
            var administrator = Assert.Single(Key().Matches(first.Output + "\n" + second.Output)).Value;
            foreach (var client in new[] { first.Client, second.Client })
            {
                client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", administrator);
                var current = await client.JsonAtAsync(Requests.Keys + "/current");
                Assert.Equal("administrator", current.GetProperty("role").GetString());
            }

            await RevocationHoldsAtOnceAsync(first.Client, second.Client);

            await using var later = await ServiceProcess.StartAsync(database.ConnectionString, folder.FullName);
            Assert.DoesNotMatch(Key(), later.Output);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static async Task RevocationHoldsAtOnceAsync(HttpClient first, HttpClient second)
    {
        var tookMilliseconds = new List<double>();
        for (var round = 0; round < Rounds; round++)
        {
            var made = await first.MakeKeyAsync(Role.Grader);
            var id = made.GetProperty("details").GetProperty("id").GetString();
            using var known = await AskAsync(second, made.GetProperty("key").GetString()!);
            Assert.Equal(HttpStatusCode.OK, known.StatusCode);

            using var revoked = await first.DeleteAsync($"{Requests.Keys}/{id}", Cancellation);
            Assert.Equal(HttpStatusCode.NoContent, revoked.StatusCode);
            var since = Stopwatch.GetTimestamp();
            using var refused = await AskAsync(second, made.GetProperty("key").GetString()!);

            await refused.ProblemAsync(ProblemTypes.KeyRequired);
            tookMilliseconds.Add(Stopwatch.GetElapsedTime(since).TotalMilliseconds);
        }

        TestContext.Current.SendDiagnosticMessage(
            $"A key revoked by one process was refused by the other's next request, {Rounds} times of {Rounds}; median answer after {tookMilliseconds.Order().ElementAt(Rounds / 2):0.0} ms.");
    }

    private static async Task<HttpResponseMessage> AskAsync(HttpClient client, string key)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, Requests.Keys + "/current");
        request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
        return await client.SendAsync(request, Cancellation);
    }

    [GeneratedRegex("dvd_[0-9a-f]{16}_[0-9a-f]{64}")]
    private static partial Regex Key();
}

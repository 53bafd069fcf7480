using System.Net.Http.Headers;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Access;

/// <summary>Reading and identifying: open to all, or to those known.</summary>
public sealed class ReadingTests
{
    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ClosedServiceAnswersOnlyThoseKnown()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString, null, ("Access:RequireKeyToRead", "true"));
        using var nobody = await service.StartAsync();
        using var student = await service.ClientAsAsync(Role.Student);

        using var identified = await nobody.IdentifyAsync(Requests.Propanone);
        using var read = await nobody.GetAsync("/api/v1/parents", Cancellation);

        await identified.ProblemAsync(ProblemTypes.KeyRequired);
        await read.ProblemAsync(ProblemTypes.KeyRequired);
        await student.IdentifiedAsync(Requests.Propanone);
        await student.JsonAtAsync("/api/v1/parents");
        await nobody.JsonAtAsync("/health/ready");
    }

    [Fact]
    public async Task DatabaseAwayStopsWhatNeedsAKeyButNotIdentification()
    {
        await using var cluster = await PostgreSqlCluster.StartNewAsync(durable: true);
        await using var service = new ServiceUnderTest(cluster.ConnectionString);
        (await service.StartAsync()).Dispose();
        using var client = service.ClientWith(ServiceUnderTest.AdministratorKey);
        await client.JsonAtAsync(Requests.Keys);

        await cluster.StopAsync();

        await client.IdentifiedAsync(Requests.Propanone);
        await client.JsonAtAsync("/api/v1/parents?limit=1");
        using var keys = await client.GetAsync(Requests.Keys, Cancellation);
        await keys.ProblemAsync(ProblemTypes.StorageUnavailable);
        Assert.NotNull(keys.Headers.RetryAfter?.Delta);

        await cluster.StartAsync();
        await client.JsonAtAsync(Requests.Keys);
    }

    [Theory]
    [InlineData("Basic", "dXNlcjpwYXNzd29yZA==")]
    [InlineData("dvd_0000000000000000_0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef", null)]
    public async Task OtherSchemesOpenNothing(string scheme, string? parameter)
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(database.ConnectionString);
        using var client = await service.StartAsync();
        client.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue(scheme, parameter);

        using var response = await client.GetAsync(Requests.Keys, Cancellation);

        await response.ProblemAsync(ProblemTypes.KeyRequired);
    }
}

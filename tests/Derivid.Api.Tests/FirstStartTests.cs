using System.Net;
using Derivid.Api.Http;
using Derivid.Testing;
using Microsoft.Data.Sqlite;

namespace Derivid.Api.Tests;

/// <summary>What is answered between the making of a database and the making of its tables.</summary>
public sealed class FirstStartTests
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task KeySentDuringTheVeryFirstStartOnSqliteCannotBeCheckedYet()
    {
        await using var database = new SqliteDatabase();
        await database.NewEngine().CreateAsync(Patience);
        await using var writer = new SqliteConnection(database.ConnectionString);
        await writer.OpenAsync(Patience);
        await using var service = new ServiceUnderTest(database.ConnectionString);
        await using (var transaction = await writer.BeginTransactionAsync(Patience))
        {
            service.StartUnready().Dispose();
            using var early = service.ClientWith(ServiceUnderTest.AdministratorKey);
            using var courses = await early.GetAsync("/api/v1/courses", Patience);
            using var ready = await early.GetAsync("/health/ready", Patience);

            await courses.ProblemAsync(ProblemTypes.StorageUnavailable);
            Assert.NotNull(courses.Headers.RetryAfter?.Delta);
            await ready.ProblemAsync(ProblemTypes.NotReady);
        }

        using var client = await service.StartAsync();
        using var administrator = service.ClientWith(ServiceUnderTest.AdministratorKey);
        using var afterwards = await administrator.GetAsync("/api/v1/courses", Patience);
        Assert.Equal(HttpStatusCode.OK, afterwards.StatusCode);
        Assert.DoesNotContain(service.Log.Lines, line => line.StartsWith("Error", StringComparison.Ordinal));
    }
}

using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Store;
using Derivid.Store.Identifications;
using Derivid.Testing;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests;

/// <summary>Identifications past their time, on one engine.</summary>
public abstract class RetentionTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task WhatIsPastItsTimeIsDeletedAndWhoAsksForItIsToldSo()
    {
        await using var database = await newDatabase();
        var (old, fresh) = (new string('b', IdentificationId.Length), new string('c', IdentificationId.Length));
        await using (var before = new ServiceUnderTest(database.ConnectionString))
        {
            using var client = await before.StartAsync();
            await StoreAsync(before, old, days: 31);
            await StoreAsync(before, fresh, days: 29);
            await client.JsonAtAsync($"{Requests.Identifications}/{old}");
        }

        await using var service = new ServiceUnderTest(database.ConnectionString, null, ("Identifications:KeepDays", "30"));
        using var later = await service.StartAsync();
        while (true)
        {
            using var found = await later.GetAsync($"{Requests.Identifications}/{old}", Patience);
            if (!found.IsSuccessStatusCode)
            {
                var problem = await found.ProblemAsync(ProblemTypes.NotFound);
                Assert.Contains("30 days after", (string)problem["detail"]!, StringComparison.Ordinal);
                break;
            }

            await Task.Delay(50, Patience);
        }

        await later.JsonAtAsync($"{Requests.Identifications}/{fresh}");
    }

    private static Task<bool> StoreAsync(ServiceUnderTest service, string id, int days) =>
        service.Services.GetRequiredService<IdentificationArchive>().AddAsync(
            StoredIdentification.Of(id, 1, "1", "{}"u8, "{}"u8, ServiceUnderTest.Now.UtcDateTime.AddDays(-days)), Patience);

    public sealed class OnSqlite() : RetentionTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : RetentionTests(async () => await server.NewDatabaseAsync());
}

public sealed class RetentionSettingTests
{
    [Theory]
    [InlineData("-1")]
    [InlineData("40000")]
    public void DaysOutOfBoundsStopTheStart(string days)
    {
        var settings = new ConfigurationBuilder().AddInMemoryCollection([new("Identifications:KeepDays", days)]).Build();

        Assert.Contains("36500", Assert.Throws<SettingException>(() => Retention.Read(settings)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void UnsetIsForEver() => Assert.Equal(0, Retention.Read(new ConfigurationBuilder().Build()).KeepDays);
}

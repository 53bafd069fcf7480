using System.Net;
using System.Text;
using Derivid.Api.Http;
using Derivid.Store.Identifications;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace Derivid.Api.Tests;

/// <summary>Problems that a healthy service on a healthy database has no occasion for.</summary>
public sealed class FailureTests(SqliteService shared)
{
    [Fact]
    public async Task AnotherModelsIdentificationIsNotReplayed()
    {
        await StoreAsync("bbbbbbbbbbbbbbbbbbbbbbbbbb", "0", """{"windowCelsius":5,"tableVersion":1,"maximumCandidates":1}""", "{}");
        using var response = await shared.Client.GetAsync(
            $"{Requests.Identifications}/bbbbbbbbbbbbbbbbbbbbbbbbbb/replay", TestContext.Current.CancellationToken);

        await response.ProblemAsync(ProblemTypes.ModelVersionDiffers);
    }

    [Fact]
    public async Task ReplayThatDiffersIsOwnedUpTo()
    {
        var model = (await shared.Client.JsonAtAsync("/health/ready")).GetProperty("modelVersion").GetString()!;
        await StoreAsync("cccccccccccccccccccccccccc", model, """{"windowCelsius":5,"tableVersion":1,"maximumCandidates":1}""", "{}");
        using var response = await shared.Client.GetAsync(
            $"{Requests.Identifications}/cccccccccccccccccccccccccc/replay", TestContext.Current.CancellationToken);

        await response.ProblemAsync(ProblemTypes.ReplayDiffers);
    }

    [Fact]
    public async Task ServiceWithoutADatabaseIsNotReady()
    {
        await using var service = new ServiceUnderTest("Host=127.0.0.1;Port=1;Username=nobody;Database=nothing");
        using var client = service.StartUnready();
        using var ready = await client.GetAsync("/health/ready", TestContext.Current.CancellationToken);
        using var list = await client.GetAsync("/api/v1/table-versions/1", TestContext.Current.CancellationToken);
        using var identified = await client.IdentifyAsync(Requests.Propanone);
        using var live = await client.GetAsync("/health/live", TestContext.Current.CancellationToken);

        foreach (var response in new[] { ready, list, identified })
        {
            await response.ProblemAsync(ProblemTypes.NotReady);
            Assert.NotNull(response.Headers.RetryAfter?.Delta);
        }

        Assert.Equal(HttpStatusCode.OK, live.StatusCode);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task DatabaseFileThatCannotBeUsedIsNamedInTheLogAndNotCalledAStart(bool isThere)
    {
        var folder = Directory.CreateTempSubdirectory("derivid-unusable-");
        try
        {
            // No database, or a folder that can't be made since a file stands in its place.
            var blocked = Path.Combine(folder.FullName, "blocked");
            await File.WriteAllTextAsync(blocked, new string('x', 5000), TestContext.Current.CancellationToken);
            var path = isThere ? blocked : Path.Combine(blocked, "derivid.db");
            await using var service = new ServiceUnderTest($"Data Source={path}");
            using var client = service.StartUnready();
            while (!service.Log.Lines.Any(line => line.Contains($"The database, {path}, can't be used", StringComparison.Ordinal)))
            {
                await Task.Delay(20, TestContext.Current.CancellationToken);
            }

            using var response = await client.GetAsync("/health/ready", TestContext.Current.CancellationToken);

            var problem = await response.ProblemAsync(ProblemTypes.NotReady);
            Assert.Contains("its log says why", (string)problem["detail"]!, StringComparison.Ordinal);
            Assert.DoesNotContain(path, problem.ToJsonString(), StringComparison.Ordinal);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public async Task FaultOfOursTellsNothingOfTheInside()
    {
        await using var database = new SqliteDatabase();
        await using var service = new ServiceUnderTest(
            database.ConnectionString,
            services => services.Replace(ServiceDescriptor.Singleton<IdentificationArchive>(
                _ => throw new InvalidOperationException("secret of the inside"))));
        using var client = await service.StartAsync();
        using var response = await client.PostAsync(Requests.Identifications, Requests.Propanone);

        await response.ProblemAsync(ProblemTypes.Unexpected);
        var text = await response.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);
        Assert.DoesNotContain("secret", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Exception", text, StringComparison.Ordinal);
        Assert.Contains(service.Log.Lines, line => line.Contains("secret of the inside", StringComparison.Ordinal));
    }

    private Task<bool> StoreAsync(string id, string model, string observation, string result) =>
        shared.Service.Services.GetRequiredService<IdentificationArchive>().AddAsync(
            StoredIdentification.Of(
                id, 1, model, Encoding.UTF8.GetBytes(observation), Encoding.UTF8.GetBytes(result), ServiceUnderTest.Now.UtcDateTime),
            TestContext.Current.CancellationToken);
}

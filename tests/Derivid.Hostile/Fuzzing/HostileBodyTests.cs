using System.Net;
using System.Net.Http.Headers;
using Derivid.Store;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests;

/// <summary>Ten thousand bodies meant ill, each answered as the sender's mistake.</summary>
public sealed class HostileBodyTests(SqliteService service)
{
    private const int Bodies = 10_000;
    private const int Seed = 20_26;

    [Fact]
    public async Task ValidBodyTheyAreMadeFromIsValid()
    {
        await service.Client.IdentifiedAsync(HostileBodies.ValidBody);
    }

    [Fact]
    public async Task EveryOneIsRefusedAndNothingIsStored()
    {
        var before = await service.Client.IdentifiedAsync(Requests.Propanone);
        var bodies = new HostileBodies(Seed);
        var statuses = new SortedDictionary<HttpStatusCode, int>();
        foreach (var some in Enumerable.Range(0, Bodies).Select(_ => bodies.Next()).Chunk(8))
        {
            foreach (var status in await Task.WhenAll(some.Select(StatusAsync)))
            {
                statuses[status] = statuses.GetValueOrDefault(status) + 1;
            }
        }

        TestContext.Current.SendDiagnosticMessage(
            $"Hostile bodies: {string.Join(", ", statuses.Select(s => $"{s.Value} answered {(int)s.Key}"))}.");
        Assert.Equal(Bodies, statuses.Where(s => (int)s.Key is >= 400 and < 500).Sum(s => s.Value));
        await service.Client.JsonAtAsync("/health/ready");
        Assert.Equal(before.GetRawText(), (await service.Client.IdentifiedAsync(Requests.Propanone)).GetRawText());
        Assert.False(await IsStoredAsync());
    }

    private async Task<HttpStatusCode> StatusAsync(byte[] body)
    {
        using var content = new ByteArrayContent(body);
        content.Headers.ContentType = new MediaTypeHeaderValue("application/json");
        using var response = await service.Client.PostAsync(
            Requests.Identifications, content, TestContext.Current.CancellationToken);
        Assert.True(
            (int)response.StatusCode is >= 400 and < 500,
            $"{(int)response.StatusCode} to {System.Text.Encoding.Latin1.GetString(body.AsSpan(0, Math.Min(body.Length, 2000)))}");
        await response.AnyProblemAsync();
        return response.StatusCode;
    }

    // Every body is made from one that asks for 313 candidates; nothing else in these tests does and stores.
    private async Task<bool> IsStoredAsync()
    {
        await using var context = await service.Service.Services.GetRequiredService<IDbContextFactory<DerividContext>>()
            .CreateDbContextAsync(TestContext.Current.CancellationToken);
        return await context.Identifications
            .AnyAsync(i => i.ObservationJson.Contains("\"maximumCandidates\":313}"), TestContext.Current.CancellationToken);
    }
}

using System.Collections.Concurrent;
using System.Net;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Core.Teaching;
using Derivid.Testing;

namespace Derivid.Api.Tests.Curation;

/// <summary>Many people at one proposal.</summary>
[Trait("Database", "PostgreSQL")]
public sealed class ConcurrentCuratorsTests(PostgreSqlServer server)
{
    private const int Curators = 32;
    private const int WritesEach = 2;
    private const int MostTries = 200;

    [Fact]
    public async Task NoUpdateIsLostAndEveryConflictIsTold()
    {
        await using var database = await server.NewDatabaseAsync();
        await using var service = new ServiceUnderTest(database.ConnectionString);
        (await service.StartAsync()).Dispose();
        using var administrator = service.ClientWith(ServiceUnderTest.AdministratorKey);
        var owner = new Curator(administrator);
        var record = await owner.RecordAsync("derivatives", 0);
        var (id, _) = await owner.MakeAsync();
        var clients = new List<HttpClient>();
        for (var i = 0; i < Curators; i++)
        {
            clients.Add(await service.ClientAsAsync(Role.Instructor));
        }

        var written = new ConcurrentDictionary<string, string>();
        var conflicts = 0;
        await Task.WhenAll(clients.Select((client, i) => Task.Run(async () =>
        {
            var curator = new Curator(client);
            var (round, tries) = (0, 0);
            while (round < WritesEach && tries++ < MostTries)
            {
                var mine = record.DeepClone().AsObject();
                var key = $"zz-{i}-{round}";
                (mine["key"], mine["note"]) = (key, $"by {i} in round {round}");
                using var response = await curator.PutAsync(id, await curator.TagAsync(id), "derivatives", key, mine);
                if (response.StatusCode == HttpStatusCode.OK)
                {
                    written[key] = (string)mine["note"]!;
                    round++;
                }
                else
                {
                    await response.ProblemAsync(ProblemTypes.StaleRevision);
                    Interlocked.Increment(ref conflicts);
                }
            }
        })));

        var differences = (await owner.DifferencesAsync(id)).GetProperty("items");
        var kept = differences.EnumerateArray().ToDictionary(
            item => item.GetProperty("key").GetString()!, item => item.GetProperty("after").GetProperty("note").GetString()!);
        var proposal = await administrator.JsonAtAsync($"{Curator.Proposals}/{id}");
        TestContext.Current.SendDiagnosticMessage("{0} writes kept, {1} refused with 412.", written.Count, conflicts);
        Assert.Equal(Curators * WritesEach, written.Count);
        Assert.True(conflicts > 0, "They never met.");
        Assert.Equal(written.OrderBy(pair => pair.Key), kept.OrderBy(pair => pair.Key));
        Assert.Equal(written.Count + 1, proposal.GetProperty("revision").GetInt32());
        await AssertAuditAsync(administrator, id, written.Count);
        clients.ForEach(client => client.Dispose());
    }

    private static async Task AssertAuditAsync(HttpClient administrator, string id, int writes)
    {
        var entries = new List<JsonElement>();
        for (var address = $"{Curator.Proposals}/{id}/audit?limit=500"; address is not null;)
        {
            var page = await administrator.JsonAtAsync(address);
            entries.AddRange(page.GetProperty("items").EnumerateArray());
            address = page.TryGetProperty("next", out var next) ? next.GetString() : null;
        }

        Assert.Equal(writes, entries.Count(entry => entry.GetProperty("action").GetString() == "proposal.change"));
        var sequence = entries.Select(entry => entry.GetProperty("sequence").GetInt64()).ToList();
        Assert.True(sequence.SequenceEqual(sequence.Order()) || sequence.SequenceEqual(sequence.OrderDescending()));
        Assert.Equal(sequence.Count, sequence.Distinct().Count());
    }
}

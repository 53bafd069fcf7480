using System.Text.Json.Nodes;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Testing;
using Microsoft.Extensions.DependencyInjection;

namespace Derivid.Api.Tests;

/// <summary>The examples rest on their own table and settings, and on nothing that changes with the real ones.</summary>
public sealed class ExampleTableTests
{
    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ManifestSealsEveryFile()
    {
        if (ExampleFiles.IsResealing)
        {
            await File.WriteAllTextAsync(ExampleTable.InFolder(SeedManifest.FileName), ExampleTable.FreshManifest(), Patience);
        }

        Assert.Equal(ExampleTable.FreshManifest(), ExampleTable.Manifest);
    }

    [Fact]
    public async Task ServiceOfTheExamplesReadsNothingOfTheSeedTables()
    {
        await using var database = new SqliteDatabase();
        await using var service = ExampleTable.NewService(database.ConnectionString);
        using var client = await service.StartAsync();
        var table = ExampleTable.Seed.Load();
        var built = SeedTables.Load();

        var parents = await Teaching.Classroom.AllAsync(client, "/api/v1/parents?limit=500");
        var derivatives = await Teaching.Classroom.AllAsync(client, "/api/v1/derivatives?limit=500");

        // Whatever a change of the seed tables could change is another object here, and the rows served are its own.
        Assert.Same(ExampleTable.Seed, service.Services.GetRequiredService<SeedTable>());
        Assert.Same(ExampleTable.Settings, service.Services.GetRequiredService<ModelSettings>());
        Assert.NotEqual(SeedTable.BuiltIn().Hash, ExampleTable.Seed.Hash);
        Assert.Equal(table.Parents.Select(parent => parent.Key).Order(), parents.Select(item => item.GetProperty("key").GetString()).Order());
        Assert.Equal(table.Derivatives.Count, derivatives.Count);
        Assert.True(built.Derivatives.Count > derivatives.Count);
    }

    [Theory]
    [InlineData("identify")]
    [InlineData("identifyBatch")]
    public async Task AnotherModelResealsNoExample(string operation)
    {
        var other = ExampleTable.Settings with
        {
            Version = "33",
            GroupLogRatio = ExampleTable.Settings.GroupLogRatio * 1.02,
            DerivativeMelting = ExampleTable.Settings.DerivativeMelting with
            {
                ReadingCelsius = ExampleTable.Settings.DerivativeMelting.ReadingCelsius * 1.1,
                WideShare = ExampleTable.Settings.DerivativeMelting.WideShare * 0.9,
            },
        };
        await using var database = new SqliteDatabase();
        await using var service = ExampleTable.NewService(database.ConnectionString, other);
        using var client = await service.StartAsync();
        var address = operation == "identify" ? Requests.Identifications : Requests.Batches;
        using var response = await client.PostAsync(address, (await ExampleFiles.ReadAsync(operation + ".request"))!);
        var answer = ExampleFiles.Indented(await response.Content.ReadAsStringAsync(Patience));
        var example = (await ExampleFiles.ReadAsync(operation + ".reply"))!;

        Assert.NotEqual(example, answer);
        Assert.True(ExampleFiles.Fits(operation, example, answer), answer);
    }

    [Theory]
    [InlineData("identify", "\"summary\": \"", "\"abstract\": \"")]
    [InlineData("identify", "\"rank\": 1", "\"rank\": \"1\"")]
    [InlineData("identify", "\"cautions\": [", "\"cautions\": [\"Something else.\", ")]
    [InlineData("getParent", "\"kind\": \"ketone\"", "\"kind\": \"aldehyde\"")]
    public async Task AnotherMemberTypeOrWordingDoesNotFit(string operation, string said, string otherwise)
    {
        var example = (await ExampleFiles.ReadAsync(operation + ".reply"))!;
        Assert.Contains(said, example, StringComparison.Ordinal);
        var other = JsonNode.Parse(example.Replace(said, otherwise, StringComparison.Ordinal))!.ToJsonString(ExampleFiles.Written) + "\n";

        Assert.False(ExampleFiles.Fits(operation, example, other));
    }
}

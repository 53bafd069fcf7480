using System.Globalization;
using System.IO.Compression;
using System.Net.Http.Json;
using System.Security.Cryptography;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using CsvHelper;
using CsvHelper.Configuration;
using Derivid.Testing;
using Json.Schema;

namespace Derivid.Api.Tests.Curation;

/// <summary>A version exported as a data package, held against the published standard and read by nothing of ours.</summary>
public sealed class DataPackageTests(SqliteService sqlite) : IClassFixture<SqliteService>
{
    // The published profile of Data Package 2.0, without its texts; tests/reference-values/README.md says from where.
    private static readonly JsonSchema Profile = JsonSchema.FromText(File.ReadAllText(RepositoryFiles.At("tests", "reference-values", "data-package", "profile-2.0.json")));

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task DescriptorIsAsTheStandardHasIt()
    {
        var (descriptor, _) = await PackageAsync();
        Assert.Empty(Faults(descriptor));

        // What is broken is told, so the profile is one that tells.
        foreach (var breaking in new Action<JsonNode>[]
        {
            package => package.AsObject().Remove("resources"),
            package => package["resources"]![0]!.AsObject().Remove("path"),
            package => package["licenses"]![0]!["name"] = "a name with spaces",
            package => package["created"] = "yesterday",
            package => package["resources"]![0]!["schema"]!["fields"]![0]!["type"] = "figure",
        })
        {
            var broken = descriptor.DeepClone();
            breaking(broken);
            Assert.NotEmpty(Faults(broken));
        }
    }

    [Fact]
    public async Task ItSaysWhatItIsHowToCiteItAndWhereItsValuesComeFrom()
    {
        var (descriptor, _) = await PackageAsync();
        var version = (await sqlite.Client.GetFromJsonAsync<JsonElement>("/api/v1/table-versions/1", Cancellation))!;
        var sources = await sqlite.Client.GetFromJsonAsync<JsonElement>("/api/v1/table-versions/1/tables/sources.json", Cancellation);
        var hash = version.GetProperty("contentSha256").GetString()!;

        Assert.Equal("1.0.0", descriptor["version"]!.GetValue<string>());
        Assert.EndsWith(hash, descriptor["id"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains(hash, descriptor["description"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("To cite:", descriptor["description"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Contains("°C", descriptor["description"]!.GetValue<string>(), StringComparison.Ordinal);
        Assert.Equal("MIT", descriptor["licenses"]![0]!["name"]!.GetValue<string>());
        Assert.Equal(
            sources.EnumerateArray().Select(source => source.GetProperty("citation").GetString()),
            descriptor["sources"]!.AsArray().Select(source => source!["title"]!.GetValue<string>()));
        Assert.Equal(
            await sqlite.Client.GetByteArrayAsync("/api/v1/table-versions/1/data-package.zip", Cancellation),
            await sqlite.Client.GetByteArrayAsync("/api/v1/table-versions/1/data-package.zip", Cancellation));
    }

    // By the descriptor alone: types, required values, vocabularies, keys that name one record and records that are there.
    [Fact]
    public async Task EveryCellIsWhatTheDescriptorSays()
    {
        var (descriptor, files) = await PackageAsync();
        var tables = new Dictionary<string, List<Dictionary<string, string>>>();
        foreach (var resource in descriptor["resources"]!.AsArray())
        {
            var content = files[resource!["path"]!.GetValue<string>()];
            Assert.Equal(content.Length, resource["bytes"]!.GetValue<int>());
            Assert.Equal("sha256:" + Convert.ToHexStringLower(SHA256.HashData(content)), resource["hash"]!.GetValue<string>());
            var rows = tables[resource["name"]!.GetValue<string>()] = Rows(content);
            var fields = resource["schema"]!["fields"]!.AsArray();
            Assert.All(rows, row => Assert.Equal(fields.Select(field => field!["name"]!.GetValue<string>()), row.Keys));
            foreach (var field in fields)
            {
                var faults = rows.Select(row => row[field!["name"]!.GetValue<string>()]).Where(cell => !IsAllowed(field!, cell)).ToList();
                Assert.True(faults.Count == 0, $"{resource["name"]} {field!["name"]}: {string.Join(" | ", faults.Take(3))}");
            }

            var key = Names(resource["schema"]!["primaryKey"]!);
            Assert.Equal(rows.Count, rows.Select(row => string.Join('\n', key.Select(name => row[name]))).Distinct(StringComparer.Ordinal).Count());
        }

        Assert.Equal(files.Count - 1, tables.Count);
        Assert.True(tables["derivatives"].Count > 1000);
        foreach (var resource in descriptor["resources"]!.AsArray())
        {
            foreach (var foreign in resource!["schema"]!["foreignKeys"]?.AsArray() ?? [])
            {
                var (own, other) = (Names(foreign!["fields"]!).Single(), Names(foreign["reference"]!["fields"]!).Single());
                var known = tables[foreign["reference"]!["resource"]!.GetValue<string>()].Select(row => row[other]).ToHashSet(StringComparer.Ordinal);
                Assert.All(tables[resource["name"]!.GetValue<string>()].Select(row => row[own]).Where(cell => cell.Length > 0), cell => Assert.Contains(cell, known));
            }
        }
    }

    private static bool IsAllowed(JsonNode field, string cell)
    {
        var constraints = field["constraints"];
        var missing = field["missingValues"] is { } words ? Names(words) : [""];
        if (missing.Contains(cell))
        {
            return constraints?["required"]?.GetValue<bool>() is not true;
        }

        return field["type"]!.GetValue<string>() switch
        {
            "string" => (constraints?["enum"] is not { } vocabulary || Names(vocabulary).Contains(cell))
                && (constraints?["pattern"] is not { } pattern || Regex.IsMatch(cell, pattern.GetValue<string>())),
            "number" => IsNumber(cell),
            "integer" => int.TryParse(cell, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out _),
            "boolean" => Names(field["trueValues"]!).Concat(Names(field["falseValues"]!)).Contains(cell),
            var other => throw new InvalidOperationException(other),
        };
    }

    private static bool IsNumber(string cell) => double.TryParse(cell, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number);

    private static List<string> Names(JsonNode names) => [.. names.AsArray().Select(name => name!.GetValue<string>())];

    private static List<Dictionary<string, string>> Rows(byte[] content)
    {
        using var reader = new CsvReader(new StreamReader(new MemoryStream(content)), new CsvConfiguration(CultureInfo.InvariantCulture));
        return [.. reader.GetRecords<dynamic>().Cast<IDictionary<string, object>>().Select(row => row.ToDictionary(cell => cell.Key, cell => (string)cell.Value))];
    }

    // Why it isn't as the profile has it; of a valid one nothing, though branches that it doesn't take are looked into too.
    private static List<string> Faults(JsonNode descriptor)
    {
        var result = Profile.Evaluate(
            JsonSerializer.SerializeToElement(descriptor), new EvaluationOptions { OutputFormat = OutputFormat.List, RequireFormatValidation = true });
        return result.IsValid ? [] : [.. (result.Details ?? []).SelectMany(detail => (detail.Errors ?? []).Select(error => $"{detail.InstanceLocation}: {error.Value}"))];
    }

    private async Task<(JsonNode Descriptor, Dictionary<string, byte[]> Files)> PackageAsync()
    {
        using var archive = new ZipArchive(new MemoryStream(await sqlite.Client.GetByteArrayAsync("/api/v1/table-versions/1/data-package.zip", Cancellation)));
        var files = new Dictionary<string, byte[]>();
        foreach (var entry in archive.Entries)
        {
            using var content = new MemoryStream();
            await using var file = await entry.OpenAsync(Cancellation);
            await file.CopyToAsync(content, Cancellation);
            files[entry.FullName] = content.ToArray();
        }

        return (JsonNode.Parse(files["datapackage.json"])!, files);
    }
}

using System.Reflection;
using System.Text.Json;
using System.Text.Json.Serialization;
using Derivid.Client;
using Derivid.Testing;

namespace Derivid.Cli.Tests;

/// <summary>The client's records are those of the published document.</summary>
public sealed class DocumentTests
{
    [Fact]
    public void RecordsHaveTheFieldsOfThePublishedDocument()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(RepositoryFiles.At("src", "Derivid.Api", "openapi", "derivid.v1.json")));
        var schemas = document.RootElement.GetProperty("components").GetProperty("schemas");
        var shared = typeof(DerividClient).Assembly.GetExportedTypes()
            .Where(type => schemas.TryGetProperty(type.Name, out _))
            .ToList();

        Assert.True(shared.Count > 50, $"Only {shared.Count} records are found in the document.");
        Assert.All(shared, type => Assert.Equal(Published(schemas.GetProperty(type.Name)), Written(type)));
    }

    private static List<string> Published(JsonElement schema) =>
        schema.TryGetProperty("enum", out var words)
            ? [.. words.EnumerateArray().Select(word => word.GetString()!).Order(StringComparer.Ordinal)]
            : schema.TryGetProperty("properties", out var properties)
                ? [.. properties.EnumerateObject().Select(property => property.Name).Order(StringComparer.Ordinal)]
                : [];

    private static List<string> Written(Type type) =>
        [.. (type.IsEnum ? Enum.GetNames(type) : Properties(type))
            .Select(JsonNamingPolicy.CamelCase.ConvertName).Order(StringComparer.Ordinal)];

    // A record with a converter of its own is no object on the wire.
    private static IEnumerable<string> Properties(Type type) =>
        type.IsDefined(typeof(JsonConverterAttribute))
            ? []
            : type.GetProperties()
                .Where(property => !property.IsDefined(typeof(JsonIgnoreAttribute)))
                .Select(property => property.Name);
}

using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Derivid.Testing;

namespace Derivid.Api.Tests;

/// <summary>The files under openapi/, which tests compare, or write with DERIVID_RESEAL=1 in the environment.</summary>
internal static partial class ExampleFiles
{
    public static JsonSerializerOptions Written { get; } = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    public static bool IsResealing => Environment.GetEnvironmentVariable("DERIVID_RESEAL") == "1";

    public static string Indented(string json) =>
        RandomPart().Replace(JsonNode.Parse(json)!.ToJsonString(Written), Settled) + "\n";

    public static Task SealAsync(string name, string json) => File.WriteAllTextAsync(
        InFolder("examples", name + ".json"), Indented(json), TestContext.Current.CancellationToken);

    /// <summary>An example. Missing: null, there is none of this name.</summary>
    public static async Task<string?> ReadAsync(string name)
    {
        var file = InFolder("examples", name + ".json");
        return File.Exists(file) ? await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken) : null;
    }

    public static string InFolder(params string[] path) => RepositoryFiles.At(["src", "Derivid.Api", "openapi", .. path]);

    /// <summary>Method and path of an operation of the published document.</summary>
    public static (string Method, string Path) Find(JsonElement document, string operation) => (
        from path in document.GetProperty("paths").EnumerateObject()
        from method in path.Value.EnumerateObject()
        where method.Value.GetProperty("operationId").GetString() == operation
        select (method.Name, path.Name)).Single();

    // Ids and the two parts of a key are random; in an example the public ones are made up and the secret one is plainly none.
    private static string Settled(Match part) =>
        part.Groups["secret"].Success ? "0f1e2d3c4b5a6978_" + new string('0', 64)
        : part.Groups["id"].Success ? "01970f1e2d3c70008b5a69780f1e2d3c"
        : "0f1e2d3c4b5a6978";

    [GeneratedRegex("(?<![0-9a-f])(?!0{16})(?:(?<id>[0-9a-f]{12}7[0-9a-f]{3}[89ab][0-9a-f]{15})|[0-9a-f]{16}(?<secret>_[0-9a-f]{64})?)(?![0-9a-f])")]
    private static partial Regex RandomPart();
}

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

    /// <summary>The operations whose answers hold what the engine works out.</summary>
    private static HashSet<string> WorkedOut { get; } =
    [
        "identify", "identifyBatch", "rank", "getIdentification", "replayIdentification", "rankReport", "checkShelf", "handOutUnknowns",
        "getHandOut", "listGrades", "getGradebook", "compareGradings", "overviewCourse", "getCoverage", "prepareDerivative",
        "planDecisions", "forecastStep",
        "guideReading",
    ];

    // Longest first, so that no name is taken for a part of another.
    private static Lazy<string[]> Parents { get; } = new(() =>
    [
        .. ExampleTable.Seed.Load().Parents
            .SelectMany(parent => parent.Synonyms.Concat([parent.Key, parent.Name, parent.Smiles, parent.Formula]))
            .Distinct().OrderByDescending(name => name.Length),
    ]);

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    public static bool IsResealing => Environment.GetEnvironmentVariable("DERIVID_RESEAL") == "1";

    public static string Indented(string json) =>
        RandomPart().Replace(JsonNode.Parse(json)!.ToJsonString(Written), Settled) + "\n";

    /// <summary>Writes an example that an answer does not fit; one that fits stays, so that figures alone change no file.</summary>
    /// <param name="operation">The operation.</param>
    /// <param name="file">The file.</param>
    /// <param name="answer">The answer, as examples are written.</param>
    public static async Task SealAsync(string operation, string file, string answer)
    {
        var path = InFolder("examples", file);
        if (!File.Exists(path) || !Fits(operation, await File.ReadAllTextAsync(path, Patience), answer))
        {
            await File.WriteAllTextAsync(path, answer, Patience);
        }
    }

    /// <summary>
    /// Whether an answer is as its example shows it: to the letter, or, of what the engine works out, in members, types and
    /// wording, whatever the figures and the order of compounds.
    /// </summary>
    /// <param name="operation">The operation.</param>
    /// <param name="example">The example.</param>
    /// <param name="answer">The answer, as examples are written.</param>
    public static bool Fits(string operation, string example, string answer) =>
        example == answer || (WorkedOut.Contains(operation) && Shape(JsonNode.Parse(example)) == Shape(JsonNode.Parse(answer)));

    /// <summary>An example. Missing: null, there is none of this name.</summary>
    public static async Task<string?> ReadAsync(string name, string type = "json")
    {
        var file = InFolder("examples", $"{name}.{type}");
        return File.Exists(file) ? await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken) : null;
    }

    public static string InFolder(params string[] path) => RepositoryFiles.At(["src", "Derivid.Api", "openapi", .. path]);

    /// <summary>Method and path of an operation of the published document.</summary>
    public static (string Method, string Path) Find(JsonElement document, string operation) => (
        from path in document.GetProperty("paths").EnumerateObject()
        from method in path.Value.EnumerateObject()
        where method.Value.GetProperty("operationId").GetString() == operation
        select (method.Name, path.Name)).Single();

    private static string Shape(JsonNode? node) => node switch
    {
        JsonObject record => "{" + string.Join(',', record.Select(member => $"{Wording(member.Key)}:{Shape(member.Value)}").Order().Distinct()) + "}",
        JsonArray list => "[" + string.Join(',', list.Select(Shape).Distinct().Order()) + "]",
        JsonValue value when value.GetValueKind() == JsonValueKind.String => $"\"{Wording((string)value!)}\"",
        JsonValue value when value.GetValueKind() == JsonValueKind.Number => "0",
        null => "null",
        _ => "true or false",
    };

    private static string Wording(string text)
    {
        foreach (var name in Parents.Value)
        {
            text = Regex.Replace(text, $@"(?<!\w){Regex.Escape(name)}(?!\w)", "<parent>", RegexOptions.IgnoreCase);
        }

        return Figure().Replace(IdentificationName().Replace(text, "<identification>"), "#");
    }

    // Named after request and model version.
    [GeneratedRegex("(?<![a-z0-9])[a-z2-7]{26}(?![a-z0-9])")]
    private static partial Regex IdentificationName();

    [GeneratedRegex(@"[+−-]?\d+(?:[.,]\d+)*(?:[eE][+-]?\d+)?")]
    private static partial Regex Figure();

    // Ids and the two parts of a key are random; in an example the public ones are made up and the secret one is plainly none.
    private static string Settled(Match part) =>
        part.Groups["secret"].Success ? "0f1e2d3c4b5a6978_" + new string('0', 64)
        : part.Groups["id"].Success ? "01970f1e2d3c70008b5a69780f1e2d3c"
        : part.Groups["trace"].Success ? "0f1e2d3c4b5a69780f1e2d3c4b5a6978"
        : "0f1e2d3c4b5a6978";

    [GeneratedRegex("(?<![0-9a-f])(?!0{16})(?:(?<trace>(?<=00-)[0-9a-f]{32}(?=-))|(?<id>[0-9a-f]{12}7[0-9a-f]{3}[89ab][0-9a-f]{15})|[0-9a-f]{16}(?<secret>_[0-9a-f]{64})?)(?![0-9a-f])")]
    private static partial Regex RandomPart();
}

using System.Text;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Derivid.Testing;
using Json.Schema;

namespace Derivid.Cli.Tests;

/// <summary>Listens to a client and its service, and holds every answer against the published document.</summary>
internal sealed partial class Witness : DelegatingHandler
{
    private static readonly JsonObject Document = JsonNode.Parse(
        File.ReadAllText(RepositoryFiles.At("src", "Derivid.Api", "openapi", "derivid.v1.json")))!.AsObject();

    private static readonly List<(Regex Path, JsonObject Operations)> Paths =
    [
        .. Document["paths"]!.AsObject()
            .Select(path => (PathOf(path.Key), path.Value!.AsObject()))
            // An address without parameters is no case of one with.
            .OrderBy(path => path.Item1.ToString().Contains('+', StringComparison.Ordinal)),
    ];

    private static readonly Dictionary<string, JsonSchema> Schemas = [];

    private readonly List<string> _faults = [];

    public Witness()
        : base(new SocketsHttpHandler())
    {
    }

    /// <summary>Where an answer is not as the document has it. Shape: in the order they came.</summary>
    public IReadOnlyList<string> Faults => _faults;

    /// <summary>How many answers were held against the document.</summary>
    public int Answers { get; private set; }

    protected override async Task<HttpResponseMessage> SendAsync(HttpRequestMessage request, CancellationToken cancellationToken)
    {
        var response = await base.SendAsync(request, cancellationToken);
        await response.Content.LoadIntoBufferAsync(cancellationToken);
        var bytes = await response.Content.ReadAsByteArrayAsync(cancellationToken);
        Answers++;
        foreach (var fault in FaultsOf(request, response, bytes))
        {
            _faults.Add($"{request.Method} {request.RequestUri!.PathAndQuery} {(int)response.StatusCode}: {fault}");
        }

        return response;
    }

    private static IEnumerable<string> FaultsOf(HttpRequestMessage request, HttpResponseMessage response, byte[] body)
    {
        var path = request.RequestUri!.AbsolutePath;
        var operation = Paths.Find(known => known.Path.IsMatch(path)).Operations?[request.Method.Method.ToLowerInvariant()];
        if (operation is null)
        {
            return ["no such operation is documented"];
        }

        var status = ((int)response.StatusCode).ToString(System.Globalization.CultureInfo.InvariantCulture);
        if (operation["responses"]![status] is not { } documented)
        {
            return ["the status is not documented"];
        }

        var type = response.Content.Headers.ContentType?.MediaType;
        if (type is null)
        {
            return body.Length == 0 && documented["content"] is null ? [] : ["there is a body without a type, or the other way round"];
        }

        if (documented["content"]?[type] is not { } content)
        {
            return [$"{type} is not documented"];
        }

        return type.EndsWith("json", StringComparison.Ordinal) ? FaultsOf(body, content) : [];
    }

    private static IEnumerable<string> FaultsOf(byte[] body, JsonNode content)
    {
        var json = JsonNode.Parse(body);
        if (content["examples"] is JsonObject problems
            && !problems.ContainsKey(((string?)json?["type"])?["urn:derivid:problem:".Length..] ?? ""))
        {
            yield return $"the problem {json?["type"]} is not documented";
        }

        var result = SchemaOf(content["schema"]!).Evaluate(
            System.Text.Json.JsonSerializer.SerializeToElement(json), new EvaluationOptions { OutputFormat = OutputFormat.List });
        // A choice that is met tells of its other branches all the same.
        foreach (var detail in result.IsValid ? [] : (result.Details ?? []).Where(detail => detail.Errors is not null))
        {
            yield return $"{detail.InstanceLocation} {string.Join(" ", detail.Errors!.Values)}";
        }
    }

    // The schema with the document's components where a schema by itself keeps them.
    private static JsonSchema SchemaOf(JsonNode schema)
    {
        var text = schema.ToJsonString();
        if (!Schemas.TryGetValue(text, out var known))
        {
            var whole = schema.DeepClone().AsObject();
            whole["$defs"] = Document["components"]!["schemas"]!.DeepClone();
            Schemas[text] = known = JsonSchema.FromText(
                whole.ToJsonString().Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal));
        }

        return known;
    }

    private static Regex PathOf(string template)
    {
        var pattern = new StringBuilder("^");
        foreach (var part in Parameter().Split(template))
        {
            pattern.Append(pattern.Length > 1 ? "[^/]+" : "").Append(Regex.Escape(part));
        }

        return new Regex(pattern.Append('$').ToString());
    }

    [GeneratedRegex(@"\{[^}]+\}")]
    private static partial Regex Parameter();
}

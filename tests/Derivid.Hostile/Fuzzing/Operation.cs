using System.Text.Json.Nodes;
using Derivid.Testing;

namespace Derivid.Hostile.Fuzzing;

/// <summary>An operation of the published OpenAPI document, with what a well-formed request of it looks like.</summary>
internal sealed record Operation
{
    /// <summary>A file where the document gives no example of one: a class's roster.</summary>
    public const string Roster = "student,bench,place,neighbours,actor\nu1,A,1,,key:0f1e2d3c4b5a6978\nu2,A,2,u1;u3,\nu3,B,1,,sign-in:a https://b.example\n";

    public required string Name { get; init; }

    /// <summary>In capitals.</summary>
    public required string Method { get; init; }

    /// <summary>With names in braces.</summary>
    public required string Path { get; init; }

    public required IReadOnlyList<Parameter> Parameters { get; init; }

    /// <summary>An example of the body by media type. Shape: empty where it takes none.</summary>
    public required IReadOnlyList<(string MediaType, JsonNode Example)> Bodies { get; init; }

    /// <summary>Every operation of the document, in its order.</summary>
    public static IReadOnlyList<Operation> All { get; } = [.. Read()];

    private static IEnumerable<Operation> Read()
    {
        var file = RepositoryFiles.At("src", "Derivid.Api", "openapi", "derivid.v1.json");
        foreach (var (path, methods) in JsonNode.Parse(File.ReadAllText(file))!["paths"]!.AsObject())
        {
            foreach (var (method, operation) in methods!.AsObject())
            {
                yield return new Operation
                {
                    Name = (string)operation!["operationId"]!,
                    Method = method.ToUpperInvariant(),
                    Path = path,
                    Parameters = [.. (operation["parameters"]?.AsArray() ?? []).Select(Parameter.Read)],
                    Bodies = [.. (operation["requestBody"]?["content"]?.AsObject() ?? []).Select(body => (body.Key, body.Value!["example"]?.DeepClone() ?? JsonValue.Create(Roster)))],
                };
            }
        }
    }
}

/// <summary>A parameter of an operation.</summary>
/// <param name="Name">Its name.</param>
/// <param name="In">Where it stands: path, query or header.</param>
/// <param name="Example">A value of it. Missing: null, the document has none.</param>
internal sealed record Parameter(string Name, string In, string? Example)
{
    public static Parameter Read(JsonNode? json) => new((string)json!["name"]!, (string)json["in"]!, json["example"]?.ToString());
}

using System.Text.Json.Nodes;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>
/// Writes the examples kept under openapi/examples into the document: NAME.parameters.json for the parameters,
/// NAME.request.json for the body and NAME.reply.json for the answer; .csv, .ndjson, .svg and .txt stand for other types. A test asks
/// the service each and compares.
/// </summary>
public sealed class DocumentedExamples : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        if (Find($"{operation.OperationId}.parameters") is JsonObject parameters)
        {
            foreach (var parameter in (operation.Parameters ?? []).OfType<OpenApiParameter>())
            {
                parameter.Example = parameters[parameter.Name!]?.DeepClone();
            }
        }

        Fill(operation.RequestBody?.Content, $"{operation.OperationId}.request");
        foreach (var (status, response) in operation.Responses ?? [])
        {
            if (status.StartsWith('2'))
            {
                Fill(response.Content, $"{operation.OperationId}.reply");
            }
        }
    }

    private static void Fill(IDictionary<string, IOpenApiMediaType>? content, string name)
    {
        foreach (var (type, media) in content ?? new Dictionary<string, IOpenApiMediaType>())
        {
            ((OpenApiMediaType)media).Example = type switch
            {
                MediaTypes.Json or "application/schema+json" => Find(name),
                MediaTypes.Csv => FindText(name + ".csv"),
                MediaTypes.JsonLines => FindText(name + ".ndjson"),
                MediaTypes.Svg => FindText(name + ".svg"),
                _ => FindText(name + ".txt"),
            };
        }
    }

    // Null: there is none of this name.
    private static JsonNode? Find(string name) => FindText(name + ".json") is { } text ? JsonNode.Parse((string)text!) : null;

    private static JsonValue? FindText(string file)
    {
        using var stream = typeof(DocumentedExamples).Assembly.GetManifestResourceStream("examples/" + file);
        return stream is null ? null : JsonValue.Create(new StreamReader(stream).ReadToEnd());
    }
}

using System.Text.Json.Nodes;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Documentation;

/// <summary>
/// Writes the examples kept under openapi/examples into the document: NAME.request.json for the body and
/// NAME.STATUS.json for the answer. A test asks the service for each and compares.
/// </summary>
public sealed class Examples : IOperationFilter
{
    /// <summary>The text of an example.</summary>
    /// <param name="name">Operation and "request" or the status, such as "identify.request".</param>
    /// <returns>JSON. Missing: null, there is none of this name.</returns>
    public static string? Find(string name)
    {
        using var stream = typeof(Examples).Assembly.GetManifestResourceStream($"examples/{name}.json");
        return stream is null ? null : new StreamReader(stream).ReadToEnd();
    }

    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        Fill(operation.RequestBody?.Content, $"{operation.OperationId}.request");
        foreach (var (status, response) in operation.Responses ?? [])
        {
            Fill(response.Content, $"{operation.OperationId}.{status}");
        }
    }

    private static void Fill(IDictionary<string, IOpenApiMediaType>? content, string name)
    {
        foreach (var media in content?.Values.OfType<OpenApiMediaType>() ?? [])
        {
            if (Find(name) is { } example)
            {
                media.Example = JsonNode.Parse(example);
            }
        }
    }
}

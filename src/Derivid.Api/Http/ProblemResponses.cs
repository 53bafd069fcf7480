using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Contracts;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>Writes the problems an endpoint may answer with into the document, an example for each.</summary>
public sealed class ProblemResponses : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        operation.Responses ??= [];
        var schema = context.SchemaGenerator.GenerateSchema(typeof(ProblemBody), context.SchemaRepository);
        var answered = context.ApiDescription.ActionDescriptor.EndpointMetadata
            .OfType<ProblemsAnswered>()
            .SelectMany(p => p.Types)
            .Distinct();
        foreach (var group in answered.GroupBy(p => p.Status).OrderBy(g => g.Key))
        {
            operation.Responses[group.Key.ToString(CultureInfo.InvariantCulture)] = new OpenApiResponse
            {
                Description = string.Join(" Or: ", group.Select(p => p.Title)),
                Content = new Dictionary<string, IOpenApiMediaType>
                {
                    ["application/problem+json"] = new OpenApiMediaType
                    {
                        Schema = schema,
                        Examples = group.ToDictionary(p => p.Slug, IOpenApiExample (p) => Example(p)),
                    },
                },
            };
        }
    }

    private static OpenApiExample Example(ProblemType type) => new()
    {
        Summary = type.Title,
        Value = JsonNode.Parse(
            JsonSerializer.Serialize(new Problem(type, type.Example).ToBody(), WireJson.Context.ProblemBody)),
    };
}

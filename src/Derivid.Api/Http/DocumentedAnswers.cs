using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Contracts;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>
/// Writes into the document what an operation answers: its problems, an example for each; what a write sent again gets; and
/// that what is no JSON, answer or body, is text (CSV, lines of JSON, and drawings) or a file.
/// </summary>
public sealed class DocumentedAnswers : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        var metadata = context.ApiDescription.ActionDescriptor.EndpointMetadata;
        operation.Responses ??= [];
        AddProblems(operation.Responses, metadata.OfType<ProblemsAnswered>(), context);
        SayTextOrFile(operation.Responses.Values.Select(response => response.Content).Append(operation.RequestBody?.Content));
        if (metadata.OfType<TakesIdempotencyKey>().Any(taken => taken.AnswersAgain) && operation.Responses.TryGetValue("201", out var made))
        {
            operation.Responses["200"] = new OpenApiResponse
            {
                Description = "An earlier request of the same idempotency key made it.",
                Content = new Dictionary<string, IOpenApiMediaType>(made.Content!.Select(
                    media => KeyValuePair.Create(media.Key, (IOpenApiMediaType)new OpenApiMediaType { Schema = media.Value.Schema }))),
            };
        }
    }

    private static void AddProblems(
        OpenApiResponses responses, IEnumerable<ProblemsAnswered> answered, OperationFilterContext context)
    {
        var schema = context.SchemaGenerator.GenerateSchema(typeof(ProblemBody), context.SchemaRepository);
        foreach (var group in answered.SelectMany(p => p.Types).Distinct().GroupBy(p => p.Status).OrderBy(g => g.Key))
        {
            responses[group.Key.ToString(CultureInfo.InvariantCulture)] = new OpenApiResponse
            {
                Description = string.Join(" Or: ", group.Select(p => p.Title)),
                Content = new Dictionary<string, IOpenApiMediaType>
                {
                    [MediaTypes.Problem] = new OpenApiMediaType
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

    private static void SayTextOrFile(IEnumerable<IDictionary<string, IOpenApiMediaType>?> bodies)
    {
        foreach (var (type, media) in bodies.SelectMany(body => body ?? new Dictionary<string, IOpenApiMediaType>()))
        {
            if (media is OpenApiMediaType other && type is MediaTypes.Csv or MediaTypes.JsonLines or MediaTypes.Svg or MediaTypes.Zip)
            {
                other.Schema = new OpenApiSchema { Type = JsonSchemaType.String, Format = type == MediaTypes.Zip ? "binary" : null };
            }
        }
    }
}

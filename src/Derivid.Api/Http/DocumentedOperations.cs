using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Access;
using Derivid.Contracts;
using Microsoft.AspNetCore.Authorization;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>Writes an endpoint's query record into the document as parameters.</summary>
public sealed class QueryParameters : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        var metadata = context.ApiDescription.ActionDescriptor.EndpointMetadata;
        foreach (var query in metadata.OfType<QueryRecord>())
        {
            operation.Parameters ??= [];
            foreach (var (name, member) in ShapeOf.Members(query.Type))
            {
                var schema = context.SchemaGenerator.GenerateSchema(
                    member.Info.PropertyType, context.SchemaRepository, member.Info);
                var description = schema.Description;
                if (schema is OpenApiSchema written)
                {
                    written.Description = null;
                }

                operation.Parameters.Add(new OpenApiParameter
                {
                    Name = name,
                    In = ParameterLocation.Query,
                    Description = description,
                    Required = member.IsRequired,
                    Schema = schema,
                });
            }
        }
    }
}

/// <summary>Writes into the document what the parts of an address are.</summary>
public sealed class PathParameters : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        foreach (var described in context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<PathParameter>())
        {
            foreach (var parameter in (operation.Parameters ?? []).OfType<OpenApiParameter>().Where(p => p.Name == described.Name))
            {
                parameter.Description = described.Description;
            }
        }
    }
}

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
}

/// <summary>Writes into the document the headers a write takes.</summary>
public sealed class WriteHeaders : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        var metadata = context.ApiDescription.ActionDescriptor.EndpointMetadata;
        if (metadata.OfType<TakesIdempotencyKey>().Any())
        {
            if (operation.Responses?.TryGetValue("201", out var made) == true)
            {
                operation.Responses["200"] = new OpenApiResponse
                {
                    Description = "An earlier request of the same idempotency key made it.",
                    Content = new Dictionary<string, IOpenApiMediaType>(made.Content!.Select(
                        media => KeyValuePair.Create(media.Key, (IOpenApiMediaType)new OpenApiMediaType { Schema = media.Value.Schema }))),
                };
            }

            Add(
                operation,
                IdempotencyHeader.Header,
                "A word of yours for this one request, such as a UUID. Sent again with the same body it changes nothing and "
                + "is answered 200 with what it made; with another body it is refused. Missing: each request counts.",
                isRequired: false,
                longest: IdempotencyHeader.LongestKey);
        }

        if (metadata.OfType<NeedsRevision>().Any())
        {
            Add(operation, "If-Match", "The ETag of the last answer you have; a change made since is not overwritten.", isRequired: true, longest: null);
        }
    }

    private static void Add(OpenApiOperation operation, string name, string description, bool isRequired, int? longest)
    {
        operation.Parameters ??= [];
        operation.Parameters.Add(new OpenApiParameter
        {
            Name = name,
            In = ParameterLocation.Header,
            Description = description,
            Required = isRequired,
            Schema = new OpenApiSchema { Type = JsonSchemaType.String, MaxLength = longest },
        });
    }
}

/// <summary>Writes into the document who may call an operation, and the header that says why something is changed.</summary>
public sealed class AccessOfOperations : IOperationFilter
{
    /// <summary>Name of the security scheme.</summary>
    public const string Scheme = "bearer";

    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        var policies = context.ApiDescription.ActionDescriptor.EndpointMetadata.OfType<IAuthorizeData>().ToList();
        if (policies is not [.., { Policy: { } strictest }])
        {
            return;
        }

        var withKey = new OpenApiSecurityRequirement
        {
            [new OpenApiSecuritySchemeReference(Scheme, context.Document)] = [],
        };
        if (strictest == Policies.Reader)
        {
            // An empty requirement beside another makes it optional (OpenAPI 3.1, Security Requirement Object).
            operation.Security = [new OpenApiSecurityRequirement(), withKey];
            return;
        }

        operation.Security = [withKey];
        operation.Description += $" Needs the role {strictest}.";
        if (!HttpMethods.IsGet(context.ApiDescription.HttpMethod ?? ""))
        {
            AddReason(operation);
        }
    }

    private static void AddReason(OpenApiOperation operation)
    {
        operation.Parameters ??= [];
        operation.Parameters.Add(new OpenApiParameter
        {
            Name = Caller.ReasonHeader,
            In = ParameterLocation.Header,
            Description = "Why, in one line; the audit log keeps it. Missing: the log doesn't say.",
            Schema = new OpenApiSchema { Type = JsonSchemaType.String, MaxLength = Caller.LongestReason },
        });
    }
}

/// <summary>Writes into the document that what is no JSON is text: CSV, lines of JSON, and drawings.</summary>
public sealed class TextAnswers : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        var bodies = (operation.Responses ?? []).Values.Select(response => response.Content).Append(operation.RequestBody?.Content);
        foreach (var (type, media) in bodies.SelectMany(body => body ?? new Dictionary<string, IOpenApiMediaType>()))
        {
            if (media is OpenApiMediaType text && type is MediaTypes.Csv or MediaTypes.JsonLines or MediaTypes.Svg)
            {
                text.Schema = new OpenApiSchema { Type = JsonSchemaType.String };
            }
        }
    }
}

/// <summary>
/// Writes the examples kept under openapi/examples into the document: NAME.parameters.json for the parameters,
/// NAME.request.json for the body and NAME.reply.json for the answer; .csv, .ndjson, .svg and .txt stand for other types. A test asks
/// the service each and compares.
/// </summary>
public sealed class Examples : IOperationFilter
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
        using var stream = typeof(Examples).Assembly.GetManifestResourceStream("examples/" + file);
        return stream is null ? null : JsonValue.Create(new StreamReader(stream).ReadToEnd());
    }
}

using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>Writes into the document what an operation takes: the parts of its address, its query, the headers of a write.</summary>
public sealed class DocumentedParameters : IOperationFilter
{
    /// <inheritdoc/>
    public void Apply(OpenApiOperation operation, OperationFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(operation);
        ArgumentNullException.ThrowIfNull(context);
        var metadata = context.ApiDescription.ActionDescriptor.EndpointMetadata;
        foreach (var query in metadata.OfType<QueryRecord>())
        {
            AddQuery(operation, query.Type, context);
        }

        foreach (var described in metadata.OfType<PathParameter>())
        {
            foreach (var parameter in (operation.Parameters ?? []).OfType<OpenApiParameter>().Where(p => p.Name == described.Name))
            {
                parameter.Description = described.Description;
                parameter.Schema = described.IsNumber ? new OpenApiSchema { Type = JsonSchemaType.Integer, Format = "int32", Minimum = "1" } : parameter.Schema;
            }
        }

        foreach (var taken in metadata.OfType<TakesIdempotencyKey>())
        {
            AddHeader(
                operation,
                IdempotencyHeader.Header,
                "A word of yours for this one request, such as a UUID. Sent again with the same body it changes nothing and "
                + (taken.AnswersAgain ? "is answered 200 with what it made, or 202 with what it started" : "is answered 409 with the name of what it made")
                + "; with another body it is refused. Missing: each request counts.",
                isRequired: false,
                longest: IdempotencyHeader.LongestKey);
        }

        if (metadata.OfType<NeedsRevision>().Any())
        {
            AddHeader(operation, "If-Match", "The ETag of the last answer you have; a change made since is not overwritten.", isRequired: true, longest: null);
        }
    }

    /// <summary>Adds a header.</summary>
    /// <param name="operation">The operation that takes it.</param>
    /// <param name="name">Its name.</param>
    /// <param name="description">What it says.</param>
    /// <param name="isRequired">Whether it must be there.</param>
    /// <param name="longest">Longest value. Units: characters. Missing: null, nothing is said.</param>
    internal static void AddHeader(OpenApiOperation operation, string name, string description, bool isRequired, int? longest)
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

    private static void AddQuery(OpenApiOperation operation, Type record, OperationFilterContext context)
    {
        operation.Parameters ??= [];
        foreach (var (name, member) in ShapeOf.Members(record))
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

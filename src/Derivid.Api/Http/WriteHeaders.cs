using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

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
            Add(
                operation,
                IdempotencyHeader.Header,
                "A word of yours for this one request, such as a UUID. Sent again with the same body it changes nothing and "
                + "is answered 200 with what it made; with another body it is refused. Missing: each request counts.",
                isRequired: false);
        }

        if (metadata.OfType<NeedsRevision>().Any())
        {
            Add(operation, "If-Match", "The ETag of the last answer you have; a change made since is not overwritten.", isRequired: true);
        }
    }

    private static void Add(OpenApiOperation operation, string name, string description, bool isRequired)
    {
        operation.Parameters ??= [];
        operation.Parameters.Add(new OpenApiParameter
        {
            Name = name,
            In = ParameterLocation.Header,
            Description = description,
            Required = isRequired,
            Schema = new OpenApiSchema { Type = JsonSchemaType.String, MaxLength = IdempotencyHeader.LongestKey },
        });
    }
}

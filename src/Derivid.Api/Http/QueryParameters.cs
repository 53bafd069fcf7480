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

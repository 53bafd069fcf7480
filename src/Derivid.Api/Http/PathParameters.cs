using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

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

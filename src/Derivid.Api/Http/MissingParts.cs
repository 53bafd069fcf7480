using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>Says in the document that a part with a schema of its own may be null where it need not be there, as is said of texts and figures.</summary>
/// <remarks>Else generated clients send the first word of a list of words for one that nobody said.</remarks>
public sealed class MissingParts : ISchemaFilter
{
    /// <inheritdoc/>
    public void Apply(IOpenApiSchema schema, SchemaFilterContext context)
    {
        if (schema is not OpenApiSchema { Properties: { } parts } whole)
        {
            return;
        }

        foreach (var name in parts.Keys.Where(name => whole.Required?.Contains(name) != true).ToList())
        {
            if (parts[name] is OpenApiSchemaReference part)
            {
                parts[name] = new OpenApiSchema
                {
                    Description = part.Description,
                    OneOf = [new OpenApiSchema { Type = JsonSchemaType.Null }, part],
                };
                part.Description = null;
            }
        }
    }
}

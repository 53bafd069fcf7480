using System.Reflection;
using Derivid.Contracts;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;

namespace Derivid.Api.Http;

/// <summary>Writes a type that is text or an object into the document as the choice it is.</summary>
public sealed class TextOrSchemas : ISchemaFilter
{
    /// <inheritdoc/>
    public void Apply(IOpenApiSchema schema, SchemaFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        if (schema is OpenApiSchema either && context.MemberInfo is null
            && context.Type.GetCustomAttribute<TextOrAttribute>() is { ObjectType: var objectType })
        {
            either.Type = null;
            either.Properties?.Clear();
            either.AdditionalPropertiesAllowed = true;
            either.OneOf =
            [
                new OpenApiSchema { Type = JsonSchemaType.String },
                context.SchemaGenerator.GenerateSchema(objectType, context.SchemaRepository),
            ];
        }
    }
}

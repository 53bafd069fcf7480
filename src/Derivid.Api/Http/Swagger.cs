using System.Reflection;
using Derivid.Api.Access;
using Derivid.Contracts;
using Derivid.Page.Hosting;
using Microsoft.OpenApi;
using Swashbuckle.AspNetCore.SwaggerGen;
using Swashbuckle.AspNetCore.SwaggerUI;

namespace Derivid.Api.Http;

/// <summary>The published document of the interface and the page that shows it.</summary>
public static class Swagger
{
    private const string Description =
        """
        Identifies an unknown aldehyde or ketone from the melting ranges of its crystalline derivatives, their colours,
        spot tests and physical data, and says with what probability, on what evidence, and what to do next.

        Every range may be written as at the bench ("125-127 °C", "237-238 dec.", "398 K"). Every answer names the version
        of the reference table and of the model, and is equal to the byte when asked again.

        Cautions. A probability is not an identity: confirm with a second derivative, a mixed melting point or a spectrum.
        Most listed melting points are literature values with the state of verification shown beside them, and some rates
        are assumed and marked so. Hazard classes and cautions are reminders: they replace neither a risk assessment nor
        the supervisor, and local rules come first. Dry 2,4-dinitrophenylhydrazine can explode; keep it wet.

        Refusals are application/problem+json (RFC 9457) with the place, the value and what is allowed. Lists are paged by
        the next link and carry an ETag (RFC 9110).
        """;

    /// <summary>Adds the document.</summary>
    /// <param name="services">The services.</param>
    public static IServiceCollection AddSwagger(this IServiceCollection services)
    {
        services.AddEndpointsApiExplorer();
        services.AddSingleton<PublishedDocument>();
        return services.AddSwaggerGen(options =>
        {
            options.SwaggerDoc(PublishedDocument.Name, new OpenApiInfo
            {
                Title = "Derivid",
                Version = "v1",
                Description = Description,
                License = new OpenApiLicense { Name = "MIT", Identifier = "MIT" },
            });
            foreach (var assembly in new[] { typeof(Swagger).Assembly, typeof(WireJson).Assembly, typeof(Core.Compounds.Parent).Assembly, typeof(Store.DerividContext).Assembly })
            {
                options.IncludeXmlComments(assembly, includeControllerXmlComments: false);
            }

            options.SupportNonNullableReferenceTypes();
            options.NonNullableReferenceTypesAsRequired();
            options.OperationFilter<DocumentedParameters>();
            options.OperationFilter<DocumentedAnswers>();
            options.OperationFilter<DocumentedAccess>();
            options.OperationFilter<DocumentedExamples>();
            options.AddSecurityDefinition(DocumentedAccess.Scheme, new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description =
                    "A key (dvd_...), or a token of the institution's OpenID Connect sign-in where one is set up. Roles "
                    + "form a ladder, each may do all that those before it may: student, grader, instructor, administrator.",
            });
            options.SchemaFilter<TextOrSchemas>();
        });
    }

    /// <summary>Serves the document.</summary>
    /// <param name="app">The application.</param>
    public static void MapDocument(this WebApplication app) =>
        app.MapGet(PublishedDocument.Address, PublishedDocument.GetAsync).ExcludeFromDescription();

    /// <summary>Serves the page at /swagger.</summary>
    /// <param name="app">The application.</param>
    public static void UseSwaggerPages(this WebApplication app)
    {
        app.UseWhen(context => context.Request.Path.StartsWithSegments("/swagger", StringComparison.OrdinalIgnoreCase), pages => pages.Use((context, next) =>
        {
            PageHeaders.SetForInterface(context.Response);
            return next(context);
        }));
        app.UseSwaggerUI(options =>
        {
            options.DocumentTitle = "Derivid";
            options.SwaggerEndpoint(PublishedDocument.Address, "Derivid v1");
            options.DisplayRequestDuration();
            options.DocExpansion(DocExpansion.None);
            options.HeadContent = """<meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="light dark"><script type="module" src="/interface.js"></script>""";
            options.InjectStylesheet("/interface.css");
        });
    }
}

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

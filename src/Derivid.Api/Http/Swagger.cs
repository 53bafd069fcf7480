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

            // What is meant where none is named; generators and linters want it said.
            options.AddServer(new OpenApiServer { Url = "/", Description = "The service that this document comes from." });
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
            options.DocumentFilter<DocumentedTags>();
            options.AddSecurityDefinition(DocumentedAccess.Scheme, new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description =
                    "A key (dvd_...), or a token of the institution's OpenID Connect sign-in where one is set up. Roles "
                    + "form a ladder, each may do all that those before it may: student, grader, instructor, administrator.",
            });
            options.SchemaFilter<TextOrSchemas>();
            options.SchemaFilter<MissingParts>();
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

/// <summary>Writes a type for which a bare text may stand into the document as what generators make of it: its object.</summary>
/// <remarks>
/// Generators of typed clients know no choice between an object and a text, or take one of them for both. So members are named without
/// saying that it is an object, which holds of a text as well, and what is neither is ruled out. Which members go together is a choice of two
/// objects: with the text alone, which again holds of a bare text, or with those that are needed without it. No object is both; all the same it is
/// no oneOf, of which a generator of C# clients takes the first for the whole, and of which the linter doesn't see that they exclude each other.
/// </remarks>
public sealed class TextOrSchemas : ISchemaFilter
{
    /// <inheritdoc/>
    public void Apply(IOpenApiSchema schema, SchemaFilterContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        if (schema is not OpenApiSchema either || context.MemberInfo is not null
            || context.Type.GetCustomAttribute<TextOrAttribute>() is not { } choice)
        {
            return;
        }

        var known = context.SchemaRepository.Schemas;
        var form = (OpenApiSchemaReference)context.SchemaGenerator.GenerateSchema(choice.ObjectType, context.SchemaRepository);
        var parts = (either.Properties?.Values ?? []).OfType<OpenApiSchemaReference>();
        either.Properties = known[form.Reference.Id!].Properties;

        // Its parts in the program are no schemas of the wire, nor is the record of the object beside it.
        foreach (var inner in parts.Append(form).ToList())
        {
            known.Remove(inner.Reference.Id!);
        }

        either.Type = null;
        either.AdditionalPropertiesAllowed = false;
        either.AnyOf =
        [
            Form(either, null, name => name == choice.Text, [choice.Text]),
            Form(either, JsonSchemaType.Object, name => name != choice.Text, choice.Needed),
        ];
        either.Not = new OpenApiSchema
        {
            Type = JsonSchemaType.Number | JsonSchemaType.Boolean | JsonSchemaType.Array | JsonSchemaType.Null,
        };
    }

    // One of the two objects: what is of the other may be said to be null.
    private static OpenApiSchema Form(OpenApiSchema either, JsonSchemaType? type, Func<string, bool> isOfIt, IReadOnlyList<string> needed) => new()
    {
        Type = type,
        Required = needed.ToHashSet(StringComparer.Ordinal),
        Properties = either.Properties!.ToDictionary(
            member => member.Key,
            IOpenApiSchema (member) => !isOfIt(member.Key) ? new OpenApiSchema { Type = JsonSchemaType.Null }
                : needed.Contains(member.Key) ? Given(member.Value)
                : member.Value),
    };

    private static OpenApiSchema Given(IOpenApiSchema member) => new()
    {
        Type = member.Type & ~JsonSchemaType.Null,
        Format = member.Format,
        Minimum = member.Minimum,
        Maximum = member.Maximum,
        Description = member.Description,
    };
}

using System.Text;
using Derivid.Api.Http;

namespace Derivid.Api.Teaching;

/// <summary>The published schemas.</summary>
public static class SchemaEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapSchemas(this RouteGroupBuilder api) =>
        api.MapGet("/schemas/rubric", GetRubric)
            .WithTags("Courses")
            .WithName("getRubricSchema")
            .WithSummary("Get the schema of a rubric")
            .WithDescription("JSON Schema, 2020-12: what a rubric may hold, with bounds and defaults. Every rubric sent is checked against it.")
            .Produces<object>(StatusCodes.Status200OK, "application/schema+json")
            .Produces(StatusCodes.Status304NotModified);

    private static IResult GetRubric(HttpContext context) => Reply.UnlessKnown(
        context, 0, () => Results.Bytes(Encoding.UTF8.GetBytes(RubricSchema.Text), "application/schema+json"));
}

using System.ComponentModel.DataAnnotations;
using System.Reflection;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Xml.Linq;
using Derivid.Api.Http;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Teaching;

/// <summary>
/// The published JSON Schema (2020-12) of a rubric, made of the record that rubrics are checked against: its members, the
/// bounds at them, their defaults, and the summaries of their documentation.
/// </summary>
public static class RubricSchema
{
    private static readonly JsonSerializerOptions Written = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    private static readonly Lazy<Dictionary<string, string>> Summaries = new(ReadSummaries);

    private static readonly Lazy<string> Made = new(Make);

    /// <summary>The schema's text.</summary>
    public static string Text => Made.Value;

    private static string Make()
    {
        var rubric = new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["$id"] = "urn:derivid:schema:rubric",
            ["title"] = nameof(Rubric),
        };
        foreach (var (keyword, value) in ObjectOf(typeof(Rubric)).ToList())
        {
            rubric[keyword] = value?.DeepClone();
        }

        // A rubric marks at least one criterion that gives points.
        rubric["anyOf"] = new JsonArray([.. ShapeOf.Members(typeof(Rubric))
            .Where(member => member.Value.Info.PropertyType.IsAssignableTo(typeof(PointsCriterion)))
            .Select(member => new JsonObject { ["required"] = new JsonArray(member.Key) })]);
        return rubric.ToJsonString(Written) + "\n";
    }

    private static JsonObject ObjectOf(Type type)
    {
        var members = ShapeOf.Members(type);
        var bare = Activator.CreateInstance(type)!;
        return new JsonObject
        {
            ["description"] = Summaries.Value[$"T:{type.FullName}"],
            ["type"] = "object",
            ["required"] = new JsonArray([.. members.Where(m => m.Value.IsRequired).Select(m => (JsonNode)m.Key)]),
            ["additionalProperties"] = false,
            ["properties"] = new JsonObject(members
                .OrderByDescending(m => m.Value.IsRequired)
                .Select(m => KeyValuePair.Create(m.Key, (JsonNode?)ValueOf(m.Value, bare)))),
        };
    }

    private static JsonObject ValueOf(ShapeOf.Member member, object bare)
    {
        var info = member.Info;
        if (info.PropertyType.IsAssignableTo(typeof(Criterion)))
        {
            var criterion = ObjectOf(info.PropertyType);
            criterion["type"] = new JsonArray("object", "null");
            return criterion;
        }

        var description = Summaries.Value[$"P:{info.DeclaringType!.FullName}.{info.Name}"];
        if (info.GetCustomAttribute<StringLengthAttribute>() is { } length)
        {
            return new JsonObject
            {
                ["description"] = description,
                ["type"] = "string",
                ["minLength"] = length.MinimumLength,
                ["maxLength"] = length.MaximumLength,
                ["pattern"] = @"^[^\u0000-\u001f\u007f-\u009f\u2028\u2029]*$",
            };
        }

        var bounds = info.GetCustomAttribute<RangeAttribute>()
            ?? throw new InvalidOperationException($"{info.DeclaringType!.Name}.{info.Name} states no bounds.");
        var figure = new JsonObject
        {
            ["description"] = description,
            ["type"] = info.PropertyType == typeof(int) ? "integer" : "number",
            ["minimum"] = JsonSerializer.SerializeToNode(bounds.Minimum),
            ["maximum"] = JsonSerializer.SerializeToNode(bounds.Maximum),
        };
        if (!member.IsRequired)
        {
            figure["default"] = JsonSerializer.SerializeToNode(info.GetValue(bare));
            figure["description"] = FormattableString.Invariant($"{description} Missing: {info.GetValue(bare)}.");
        }

        return figure;
    }

    // By the compiler's names of what they describe. They lie beside the assembly, where the document's own come from.
    private static Dictionary<string, string> ReadSummaries()
    {
        var file = Path.ChangeExtension(Path.Combine(AppContext.BaseDirectory, typeof(Rubric).Assembly.GetName().Name + ".dll"), ".xml");
        return XDocument.Load(file).Descendants("member")
            .Where(member => member.Element("summary") is not null)
            .ToDictionary(
                member => member.Attribute("name")!.Value,
                member => string.Join(' ', member.Element("summary")!.Value.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries)),
                StringComparer.Ordinal);
    }
}

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
        context, 0, () => Reply.Bytes(Encoding.UTF8.GetBytes(RubricSchema.Text), "application/schema+json"));
}

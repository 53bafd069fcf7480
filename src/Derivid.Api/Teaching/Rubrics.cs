using System.Text.Json;
using System.Text.Json.Serialization.Metadata;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;
using Json.Schema;

namespace Derivid.Api.Teaching;

/// <summary>Reads rubrics against their published schema.</summary>
public static class Rubrics
{
    /// <summary>The published schema's text.</summary>
    public static string SchemaText { get; } = ReadSchema();

    private static readonly Lazy<JsonSchema> Schema = new(() => JsonSchema.FromText(SchemaText));

    // What the compiler prepares for the wire's records gives a property left out the default of its type, not the
    // rubric's own default.
    private static readonly JsonSerializerOptions WithDefaults =
        WireJson.Configured(new JsonSerializerOptions { TypeInfoResolver = new DefaultJsonTypeInfoResolver() });

    private static readonly EvaluationOptions Listed = new() { OutputFormat = OutputFormat.List };

    /// <summary>Reads a rubric.</summary>
    /// <param name="json">The rubric. Missing: null, the usual one.</param>
    /// <param name="place">Where it stands, a JSON Pointer.</param>
    /// <param name="errors">Takes the faults.</param>
    /// <returns>The rubric. It means something only while no faults were noted.</returns>
    public static Rubric Read(JsonElement? json, string place, FieldErrors errors)
    {
        ArgumentNullException.ThrowIfNull(errors);
        if (json is not { } element)
        {
            return Rubric.Usual;
        }

        if (Shape.HoldsNoCharacter(element))
        {
            errors.Add(place, "Holds an escape that is no character, such as half of a surrogate pair.");
            return Rubric.Usual;
        }

        var before = errors.Count;
        AddFaults(Schema.Value.Evaluate(element, Listed), place, errors);
        if (errors.Count > before)
        {
            return Rubric.Usual;
        }

        var rubric = element.Deserialize<Rubric>(WithDefaults)!;
        foreach (var fault in rubric.Faults())
        {
            errors.Add(PlaceOf(fault, place), fault.Sentence);
        }

        return rubric;
    }

    /// <summary>The rubric as it is kept: every default written out.</summary>
    /// <param name="rubric">The rubric.</param>
    public static string Written(Rubric rubric) => JsonSerializer.Serialize(rubric, WithDefaults);

    /// <summary>A rubric as it was kept.</summary>
    /// <param name="json">Its JSON.</param>
    public static Rubric Kept(string json) => JsonSerializer.Deserialize<Rubric>(json, WithDefaults)!;

    private static void AddFaults(EvaluationResults results, string place, FieldErrors errors)
    {
        if (results.IsValid)
        {
            return;
        }

        // "At least one criterion" is a choice of alternatives, each of which tells that it isn't met; the rubric itself
        // says that better.
        var told = (results.Details ?? [])
            .Where(detail => detail is { IsValid: false, Errors: not null })
            .Where(detail => !detail.EvaluationPath.ToString().Contains("/anyOf/", StringComparison.Ordinal));
        foreach (var result in told)
        {
            // A property that is not allowed is told by the schema "false" that forbids it, which has no keyword.
            foreach (var (keyword, message) in result.Errors!.Where(error => error.Key != "anyOf"))
            {
                errors.Add(
                    place + result.InstanceLocation,
                    keyword.Length == 0 ? "Not known here; see the schema at /api/v1/schemas/rubric." : message + ".");
            }
        }
    }

    private static string PlaceOf(RubricFault fault, string place)
    {
        var field = JsonNamingPolicy.CamelCase.ConvertName(fault.Field);
        return fault.Criterion is { } criterion
            ? $"{place}/{JsonNamingPolicy.CamelCase.ConvertName(criterion.ToString())}/{field}"
            : $"{place}/{field}";
    }

    private static string ReadSchema()
    {
        using var stream = typeof(Rubrics).Assembly.GetManifestResourceStream("schemas/rubric.json")!;
        return new StreamReader(stream).ReadToEnd();
    }
}

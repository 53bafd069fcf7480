using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Teaching;

/// <summary>Reads rubrics.</summary>
public static class Rubrics
{
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

        var before = errors.Count;
        Shape.Check(element, typeof(Rubric), place, errors);
        if (errors.Count > before)
        {
            return Rubric.Usual;
        }

        var rubric = element.Deserialize<Rubric>(WireJson.WithDefaults)!;
        foreach (var fault in rubric.Faults())
        {
            errors.Add(PlaceOf(fault, place), fault.Sentence);
        }

        return rubric;
    }

    /// <summary>The rubric as it is kept: every default written out.</summary>
    /// <param name="rubric">The rubric.</param>
    public static string Written(Rubric rubric) => JsonSerializer.Serialize(rubric, WireJson.WithDefaults);

    /// <summary>A rubric as it was kept.</summary>
    /// <param name="json">Its JSON.</param>
    public static Rubric Kept(string json) => JsonSerializer.Deserialize<Rubric>(json, WireJson.WithDefaults)!;

    private static string PlaceOf(RubricFault fault, string place)
    {
        var field = JsonNamingPolicy.CamelCase.ConvertName(fault.Field);
        return fault.Criterion is { } criterion
            ? $"{place}/{JsonNamingPolicy.CamelCase.ConvertName(criterion.ToString())}/{field}"
            : $"{place}/{field}";
    }
}

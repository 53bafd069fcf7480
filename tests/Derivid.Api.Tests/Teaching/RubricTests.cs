using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;
using Derivid.Api.Teaching;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Tests.Teaching;

/// <summary>The published schema and the rubric of the laboratory say the same.</summary>
public sealed class RubricTests
{
    private static readonly JsonObject Schema = JsonNode.Parse(Rubrics.SchemaText)!.AsObject();

    /// <summary>Every figure of the schema, by criterion and name; empty for the rubric itself.</summary>
    public static TheoryData<string, string> Figures
    {
        get
        {
            var figures = new TheoryData<string, string>();
            foreach (var (name, property) in Schema["properties"]!.AsObject())
            {
                if (property!["minimum"] is not null)
                {
                    figures.Add("", name);
                }

                foreach (var (inner, _) in property["properties"]?.AsObject() ?? [])
                {
                    figures.Add(name, inner);
                }
            }

            return figures;
        }
    }

    [Fact]
    public void WhatIsLeftOutHasTheDefaultOfTheLaboratoryAndOfTheSchema()
    {
        var bare = new JsonObject { ["name"] = "Bare" };
        foreach (var (name, property) in Schema["properties"]!.AsObject().Where(p => (string?)p.Value!["type"] == "object"))
        {
            var criterion = new JsonObject();
            foreach (var required in property!["required"]!.AsArray())
            {
                criterion[(string)required!] = 1;
            }

            bare[name] = criterion;
        }

        var written = JsonNode.Parse(Rubrics.Written(Read(bare, out var errors)))!;

        Assert.Equal(0, errors.Count);
        foreach (var (name, property) in Schema["properties"]!.AsObject())
        {
            AssertDefault(property!, written[name]);
            foreach (var (inner, figure) in property!["properties"]?.AsObject() ?? [])
            {
                AssertDefault(figure!, written[name]![inner]);
            }
        }
    }

    [Theory]
    [MemberData(nameof(Figures))]
    public void BoundsOfTheSchemaAreThoseOfTheLaboratory(string criterion, string figure)
    {
        var bounds = (criterion.Length == 0 ? Schema : Schema["properties"]![criterion]!)["properties"]![figure]!;
        var (low, high) = ((double)bounds["minimum"]!, (double)bounds["maximum"]!);
        var step = (string?)bounds["type"] == "integer" ? 1 : 0.001;

        foreach (var (value, isAllowed) in new[] { (low, true), (high, true), (low - step, false), (high + step, false) })
        {
            var rubric = With(criterion, figure, value);
            Read(rubric, out var errors);
            var core = Laboratory(rubric);
            Assert.True(isAllowed == (errors.Count == 0), $"{criterion}/{figure} {value}: {errors.ToProblem()?.Detail}");
            Assert.True(isAllowed == !core.Faults().Any(), $"{criterion}/{figure} {value} in the laboratory");
        }
    }

    [Theory]
    [InlineData("""{ "name": "" , "rightClass": { "points": 1 } }""", "/name")]
    [InlineData("""{ "name": "N" }""", "/criteria")]
    [InlineData("""{ "name": "N", "lateness": { "pointsPerDay": 1, "mostPoints": 1 } }""", "/criteria")]
    [InlineData("""{ "name": "N", "rightClass": { } }""", "/rightClass")]
    [InlineData("""{ "name": "N", "rightClass": { "points": "4" } }""", "/rightClass/points")]
    [InlineData("""{ "name": "N", "rightKlass": { "points": 4 }, "rightClass": { "points": 4 } }""", "/rightKlass")]
    [InlineData("""{ "name": "N", "rangeWidth": { "points": 4, "fullSpanCelsius": 6 } }""", "/rangeWidth/zeroSpanCelsius")]
    [InlineData("""{ "name": "N", "expectedTests": 1.5, "rightClass": { "points": 4 } }""", "/expectedTests")]
    [InlineData("[]", "")]
    [InlineData("null", "")]
    [InlineData("7", "")]
    public void FaultIsToldAtItsPlace(string rubric, string place)
    {
        Read(JsonNode.Parse(rubric), out var errors);

        var told = errors.ToProblem()?.Errors;
        Assert.NotNull(told);
        Assert.Equal(["/rubric" + place], told.Keys);
    }

    private static Rubric Read(JsonNode? rubric, out FieldErrors errors)
    {
        errors = new FieldErrors();
        return Rubrics.Read(JsonElement.Parse(rubric?.ToJsonString() ?? "null"), "/rubric", errors);
    }

    // A rubric of the laboratory with a figure that the schema may refuse.
    private static Rubric Laboratory(JsonObject rubric) => Rubrics.Kept(rubric.ToJsonString());

    private static JsonObject With(string criterion, string figure, double value)
    {
        var rubric = JsonNode.Parse(Rubrics.Written(Rubric.Usual))!.AsObject();
        var at = criterion.Length == 0 ? rubric : rubric[criterion]!.AsObject();
        at[figure] = double.IsInteger(value) ? (JsonNode)(int)value : value;

        // The two ends of a slope must not meet while one of them is tried out.
        if (figure.StartsWith("full", StringComparison.Ordinal) && figure.EndsWith("Celsius", StringComparison.Ordinal))
        {
            at[figure.Replace("full", "zero", StringComparison.Ordinal)] = 50;
        }
        else if (figure.StartsWith("zero", StringComparison.Ordinal))
        {
            at[figure.Replace("zero", "full", StringComparison.Ordinal)] = 0;
        }

        return rubric;
    }

    private static void AssertDefault(JsonNode schema, JsonNode? written)
    {
        var description = (string?)schema["description"] ?? "";
        const string mark = "Missing: ";
        if (description.IndexOf(mark, StringComparison.Ordinal) is var at && at >= 0)
        {
            var stated = description[(at + mark.Length)..].TrimEnd('.');
            Assert.Equal(double.Parse(stated, System.Globalization.CultureInfo.InvariantCulture), (double)written!, 1e-12);
        }
    }
}

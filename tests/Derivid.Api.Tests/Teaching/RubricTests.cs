using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Api.Http;
using Derivid.Api.Teaching;
using Derivid.Core.Teaching.Grading;

namespace Derivid.Api.Tests.Teaching;

/// <summary>The published schema, the check of a rubric sent and the rubric of the laboratory say the same.</summary>
public sealed class RubricTests
{
    // Criterion and figure, type, bounds, and what stands for one left out.
    private const string Published =
        """
        pointStep number 0.01 10 0.5
        expectedDerivatives integer 1 5 1
        farthestCelsius number 1 500 10
        expectedTests integer 1 20 2
        rightCompound/points number 0 1000 required
        rightCompound/groupShare number 0 1 0.5
        rightCompound/largestGroup integer 2 20 4
        rightClass/points number 0 1000 required
        rightClass/functionShare number 0 1 0.5
        rightClass/unreasonedShare number 0 1 1
        supportedClaim/points number 0 1000 required
        supportedClaim/fullPosterior number 0 1 0.8
        supportedClaim/groupShare number 0 1 0.75
        supportedClaim/largestGroup integer 1 20 4
        supportedClaim/runnerUpRank integer 1 50 3
        supportedClaim/runnerUpPosterior number 0 1 0.05
        supportedClaim/runnerUpShare number 0 1 0.4
        rangeWidth/points number 0 1000 required
        rangeWidth/fullSpanCelsius number 0 20 2
        rangeWidth/zeroSpanCelsius number 0.01 50 6
        rangeWidth/singleFigureShare number 0 1 0.5
        rangeDistance/points number 0 1000 required
        rangeDistance/fullCelsius number 0 20 2
        rangeDistance/zeroCelsius number 0.01 50 10
        recrystallisation/points number 0 1000 required
        recrystallisation/sharpSpanCelsius number 0 20 2
        recrystallisation/allowedDropCelsius number 0 10 1
        recrystallisation/oneShare number 0 1 0.5
        testsFitClaim/points number 0 1000 required
        testsFitClaim/doubtfulShare number 0 1 0.5
        testsFitCompound/points number 0 1000 required
        testsFitCompound/doubtfulShare number 0 1 0.5
        writtenReasoning/points number 0 1000 required
        attempts/freeAttempts integer 1 100 1
        attempts/pointsPerAttempt number 0 1000 required
        attempts/mostPoints number 0 1000 required
        lateness/graceHours number 0 240 0
        lateness/pointsPerDay number 0 1000 required
        lateness/mostPoints number 0 1000 required
        """;

    private static readonly JsonObject Schema = JsonNode.Parse(RubricSchema.Text)!.AsObject();

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
        foreach (var (name, property) in Schema["properties"]!.AsObject().Where(p => p.Value!["properties"] is not null))
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
    [InlineData("""{ "name": "N", "rightClass": { } }""", "/rightClass/points")]
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

    [Fact]
    public void SchemaSaysWhatItHasSaidSinceItWasPublished()
    {
        var figures = Figures.Select(row => row.Data).Select(figure =>
        {
            var rules = figure.Item1.Length == 0 ? Schema : Schema["properties"]![figure.Item1]!;
            var bounds = rules["properties"]![figure.Item2]!;
            var isRequired = rules["required"]!.AsArray().Any(name => (string?)name == figure.Item2);
            var left = isRequired ? "required" : bounds["default"]!.ToJsonString();
            return $"{figure.Item1}/{figure.Item2} {bounds["type"]} {bounds["minimum"]} {bounds["maximum"]} {left}".TrimStart('/');
        });

        Assert.Equal(Published.Split('\n').Order(), figures.Order());
        Assert.False((bool)Schema["additionalProperties"]!);
        Assert.Equal(["name"], Schema["required"]!.AsArray().Select(name => (string?)name));
        Assert.Equal(9, Schema["anyOf"]!.AsArray().Count);
        Assert.Equal((1, 100), ((int)Schema["properties"]!["name"]!["minLength"]!, (int)Schema["properties"]!["name"]!["maxLength"]!));
        Assert.All(
            Schema["properties"]!.AsObject(),
            property => Assert.False(string.IsNullOrWhiteSpace((string?)property.Value!["description"]), property.Key));
    }

    [Fact]
    public void CriterionSetToNothingIsNotMarked()
    {
        var rubric = JsonNode.Parse("""{ "name": "N", "lateness": null, "rightClass": { "points": 4 } }""");

        Assert.Null(Read(rubric, out var errors).Lateness);
        Assert.Equal(0, errors.Count);
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

        // The usual rubric leaves out what is marked by hand.
        rubric["writtenReasoning"] ??= new JsonObject { ["points"] = 1 };
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
        if (schema["default"] is { } stated)
        {
            Assert.Equal((double)stated, (double)written!, 1e-12);
        }
    }
}

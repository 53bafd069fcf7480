using System.ComponentModel.DataAnnotations;
using System.Globalization;
using System.Reflection;
using Derivid.Api.Http;
using Derivid.Contracts;

namespace Derivid.Api.Tests;

/// <summary>What is wrong is named with its place, its value and what is allowed.</summary>
public sealed class ValidationTests(SqliteService service)
{
    // Bounds of whole numbers overflow on a number beyond them.
    [Fact]
    public void BoundsOfNumbersAreNumbersOfTheirKind() => Assert.All(
        typeof(WireJson).Assembly.GetExportedTypes().SelectMany(type => type.GetProperties())
            .Where(property => (Nullable.GetUnderlyingType(property.PropertyType) ?? property.PropertyType) == typeof(double)),
        property => Assert.True(
            property.GetCustomAttribute<RangeAttribute>() is not { } range || range.OperandType == typeof(double),
            $"{property.DeclaringType!.Name}.{property.Name}"));

    [Theory]
    [InlineData("""{ "derivatives": [{ "kind": "hydrazoline" }] }""", "/derivatives/0/kind", "\"hydrazoline\"", "semicarbazone")]
    [InlineData("""{ "derivatives": [{ "kind": 7 }] }""", "/derivatives/0/kind", "7", "text")]
    [InlineData("""{ "derivatives": [{}] }""", "/derivatives/0/kind", "Missing", "needed")]
    [InlineData("""{ "derivatives": [{ "kind": null }] }""", "/derivatives/0/kind", "null", "text")]
    [InlineData("""{ "derivatives": {} }""", "/derivatives", "{…}", "list")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "colour": "plaid" }] }""", "/derivatives/0/colour", "\"plaid\"", "yellow-orange")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "preparation": "boiled" }] }""", "/derivatives/0/preparation", "\"boiled\"", "recrystallised")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "preparation": 1 }] }""", "/derivatives/0/preparation", "1", "recrystallised")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": "warm" }] }""", "/derivatives/0/meltingRange", "\"warm\"", "125-127")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": "" }] }""", "/derivatives/0/meltingRange", "empty", "125-127")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": { "text": "126 °C", "onsetCelsius": 126 } }] }""", "/derivatives/0/meltingRange", "text, onsetCelsius", "text alone is allowed")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": { "text": "warm" } }] }""", "/derivatives/0/meltingRange", "warm", "°C")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": 126 }] }""", "/derivatives/0/meltingRange", "126", "text or an object")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": { "onsetCelsius": 1 } }] }""", "/derivatives/0/meltingRange/clearPointCelsius", "Missing", "needed")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "meltingRange": { "onsetCelsius": 451, "clearPointCelsius": 450 } }] }""", "/derivatives/0/meltingRange/onsetCelsius", "451", "-200 to 450")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": "nothing" }] }""", "/derivatives/0/precipitate", "\"nothing\"", "crystals, oil, none")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": false }] }""", "/derivatives/0/precipitate", "false", "crystals, oil, none")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": "none", "meltingRange": "47 °C" }] }""", "/derivatives/0/meltingRange", "\"none\"", "\"crystals\"")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": "oil", "colour": "yellow" }] }""", "/derivatives/0/colour", "\"oil\"", "leave it out")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": "none", "preparation": "crude" }] }""", "/derivatives/0/preparation", "\"none\"", "leave it out")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "precipitate": "oil", "time": "hours" }] }""", "/derivatives/0/time", "\"oil\"", "leave it out")]
    [InlineData("""{ "derivatives": [{ "kind": "oxime", "time": "days" }] }""", "/derivatives/0/time", "\"days\"", "seconds, minutes, hours")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "oxim", "partner": "propanone", "range": "60" }] }""", "/mixedMeltings/0/kind", "\"oxim\"", "oxime")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "oxime", "partner": "propanoen", "range": "60" }] }""", "/mixedMeltings/0/partner", "\"propanoen\"", "propanone")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "oxime", "range": "60" }] }""", "/mixedMeltings/0/partner", "Missing", "needed")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "oxime", "partner": "propanone" }] }""", "/mixedMeltings/0/range", "Missing", "needed")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "oxime", "partner": "propanone", "range": "60", "authenticRange": "hot" }] }""", "/mixedMeltings/0/authenticRange", "\"hot\"", "125-127")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "dimethone", "partner": "propanone", "range": "160" }] }""", "/mixedMeltings/0/kind", "dimedone", "forms no")]
    [InlineData("""{ "mixedMeltings": [{ "partner": "propanone", "range": "60" }] }""", "/mixedMeltings/0/partner", "\"propanone\"", "liquid at room temperature")]
    [InlineData("""{ "mixedMeltings": {} }""", "/mixedMeltings", "{…}", "list")]
    [InlineData("""{ "spotTests": [{ "test": "Tolens", "outcome": "positive" }] }""", "/spotTests/0/test", "\"Tolens\"", "tollens")]
    [InlineData("""{ "spotTests": [{ "test": "tollens", "outcome": "maybe" }] }""", "/spotTests/0/outcome", "\"maybe\"", "doubtful")]
    [InlineData("""{ "spotTests": [{ "test": "tollens", "outcome": "Positive" }] }""", "/spotTests/0/outcome", "\"Positive\"", "positive")]
    [InlineData("""{ "state": "gas" }""", "/state", "\"gas\"", "liquid")]
    [InlineData("""{ "boilingPoint": "55 °C" }""", "/boilingPoint", "\"55 °C\"", "object")]
    [InlineData("""{ "boilingPoint": { "range": "55 °C", "pressureKilopascals": 0.05 } }""", "/boilingPoint/pressureKilopascals", "0.05", "0.1 to 110")]
    [InlineData("""{ "meltingPoint": "b.p. 55 °C" }""", "/meltingPoint", "b.p. 55", "125-127")]
    [InlineData("""{ "molarMass": { "gramsPerMole": 1e999, "uncertaintyGramsPerMole": 1 } }""", "/molarMass/gramsPerMole", "1e999", "20 to 2000")]
    [InlineData("""{ "molarMass": { "gramsPerMole": "NaN", "uncertaintyGramsPerMole": 1 } }""", "/molarMass/gramsPerMole", "\"NaN\"", "number")]
    [InlineData("""{ "elements": { "present": ["carbon"] } }""", "/elements/present/0", "\"carbon\"", "nitrogen")]
    [InlineData("""{ "thermometer": { "standards": [{ "standard": "ice", "readCelsius": 0 }] } }""", "/thermometer/standards/0/standard", "\"ice\"", "benzoic-acid")]
    [InlineData("""{ "thermometer": { "stem": { "exposedCelsius": 500, "stemCelsius": 40 } } }""", "/thermometer/stem/exposedCelsius", "500", "0 to 400")]
    [InlineData("""{ "windowCelsius": 0 }""", "/windowCelsius", "0", "0.1 to 50")]
    [InlineData("""{ "prior": { "shelfList": ["propanoen"] } }""", "/prior/shelfList/0", "\"propanoen\"", "propanone")]
    [InlineData("""{ "prior": { "shelfList": [] } }""", "/prior/shelfList", "0", "1 to 1000")]
    [InlineData("""{ "prior": { "weights": { "propanone": 0 } } }""", "/prior/weights/propanone", "weight", "0.000001 to 1000000")]
    [InlineData("""{ "prior": { "weights": { "propanone": 1, "67-64-1": 2 } } }""", "/prior/weights/67-64-1", "67-64-1", "propanone")]
    [InlineData("""{ "prior": { "weights": { "propanone": "1" } } }""", "/prior/weights/propanone", "\"1\"", "number")]
    [InlineData("""{ "prior": { "weights": { "a/b~c": 1 } } }""", "/prior/weights/a~1b~0c", "a/b~c", "Closest")]
    [InlineData("""{ "prior": { "shelfList": ["propanone"], "weights": { "propanone": 1 } } }""", "/prior", "both", "one of them")]
    [InlineData("""{ "prior": { "noneOfThese": 1 } }""", "/prior/noneOfThese", "1", "0 to 0.99")]
    [InlineData("""{ "maximumCandidates": 1.5 }""", "/maximumCandidates", "1.5", "whole number from 1 to 500")]
    [InlineData("""{ "maximumCandidates": 99999999999 }""", "/maximumCandidates", "99999999999", "1 to 500")]
    [InlineData("""{ "maximumCandidates": null, "tableVersion": "1" }""", "/tableVersion", "\"1\"", "number")]
    [InlineData("""{ "notes": "blue" }""", "/notes", "\"notes\"", "derivatives, spotTests")]
    [InlineData("""[]""", "", "[…]", "object")]
    [InlineData("""null""", "", "null", "object")]
    [InlineData("""{ "meltingPoint": "48\u0000" }""", "/meltingPoint", "control character", "one line")]
    [InlineData("""{ "meltingPoint": "\ud800" }""", "/meltingPoint", "escape", "surrogate")]
    public async Task FaultIsNamedWithPlaceValueAndWhatIsAllowed(string body, string place, string value, string allowed)
    {
        using var response = await service.Client.IdentifyAsync(body);
        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);
        var message = problem.MessageAt(place);

        Assert.Contains(value, message, StringComparison.Ordinal);
        Assert.Contains(allowed, message, StringComparison.Ordinal);
        Assert.Contains(message, (string)problem["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task EveryFaultIsToldAtOnce()
    {
        using var response = await service.Client.IdentifyAsync(
            """{ "windowCelsius": 99, "derivatives": [{ "kind": 1, "size": 2 }], "molarMass": {} }""");
        var problem = await response.ProblemAsync(ProblemTypes.InvalidRequest);

        Assert.Equal(
            [
                "/derivatives/0/kind", "/derivatives/0/size", "/molarMass/gramsPerMole",
                "/molarMass/uncertaintyGramsPerMole", "/windowCelsius",
            ],
            problem["errors"]!.AsObject().Select(e => e.Key));
    }

    [Theory]
    [InlineData("""{ "meltingPoint": "127-125 °C" }""", "/meltingPoint")]
    [InlineData("""{ "meltingPoint": { "onsetCelsius": 127, "clearPointCelsius": 125 } }""", "/meltingPoint")]
    [InlineData("""{ "boilingPoint": { "range": "57-55" } }""", "/boilingPoint/range")]
    [InlineData("""{ "mixedMeltings": [{ "kind": "oxime", "partner": "propanone", "range": "60-59" }] }""", "/mixedMeltings/0/range")]
    public async Task ReversedRangeIsImpossible(string body, string place)
    {
        using var response = await service.Client.IdentifyAsync(body);

        (await response.ProblemAsync(ProblemTypes.MeltingRangeReversed)).MessageAt(place);
    }

    [Theory]
    [InlineData("""{ "spotTests": [{ "test": "tollens", "outcome": "positive" }, { "test": "Tollens test", "outcome": "negative" }] }""", "/spotTests")]
    [InlineData("""{ "elements": { "present": ["sulfur"], "absent": ["sulfur"] } }""", "/elements")]
    [InlineData("""{ "thermometer": { "standards": [{ "standard": "benzil", "readCelsius": 95 }, { "standard": "benzil", "readCelsius": 96 }] } }""", "/thermometer/standards")]
    public async Task ContraryReadingsAreRefused(string body, string place)
    {
        using var response = await service.Client.IdentifyAsync(body);

        (await response.ProblemAsync(ProblemTypes.ContradictoryReadings)).MessageAt(place);
    }

    [Fact]
    public async Task EqualReadingsCountOnce()
    {
        const string Once = """{ "spotTests": [{ "test": "tollens", "outcome": "positive" }] }""";
        const string Twice =
            """{ "spotTests": [{ "test": "tollens", "outcome": "positive" }, { "test": "tollens", "outcome": "positive" }] }""";

        Assert.Equal(
            (await service.Client.IdentifiedAsync(Once)).GetRawText(),
            (await service.Client.IdentifiedAsync(Twice)).GetRawText());
    }

    [Theory]
    [InlineData("""[{ "standard": "benzoic acid", "readCelsius": 80 }]""")]
    [InlineData("""[{ "standard": "benzil", "readCelsius": 100 }, { "standard": "naphthalene", "readCelsius": 100 }]""")]
    public async Task BrokenThermometerIsRefused(string standards)
    {
        using var response = await service.Client.IdentifyAsync($$"""{ "thermometer": { "standards": {{standards}} } }""");
        var problem = await response.ProblemAsync(ProblemTypes.ThermometerImplausible);

        Assert.DoesNotContain("Parameter", problem.MessageAt("/thermometer/standards"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task UnknownTableVersionIsNotFound()
    {
        using var response = await service.Client.IdentifyAsync("""{ "tableVersion": 99 }""");

        var problem = await response.ProblemAsync(ProblemTypes.NotFound);
        Assert.Contains("99", (string)problem["detail"]!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task EmptyObservationGivesThePrior()
    {
        var answer = await service.Client.IdentifiedAsync("{}");

        Assert.All(
            answer.GetProperty("candidates").EnumerateArray(),
            c => Assert.Equal(c.GetProperty("prior").GetDouble(), c.GetProperty("posterior").GetDouble(), 1e-9));
        Assert.NotEqual(0, answer.GetProperty("nextSteps").GetArrayLength());
    }

    [Theory]
    [InlineData("derivatives", """{ "kind": "oxime" }""", 16)]
    [InlineData("spotTests", """{ "test": "tollens", "outcome": "notDone" }""", 40)]
    public async Task ListsHaveALimit(string property, string item, int most)
    {
        string Body(int count) => $$"""{ "{{property}}": [{{string.Join(',', Enumerable.Repeat(item, count))}}] }""";

        await service.Client.IdentifiedAsync(Body(most));
        using var response = await service.Client.IdentifyAsync(Body(most + 1));
        var message = (await response.ProblemAsync(ProblemTypes.InvalidRequest)).MessageAt("/" + property);
        Assert.Contains((most + 1).ToString(CultureInfo.InvariantCulture), message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task NumbersAtEveryBoundAreTaken()
    {
        foreach (var (low, high, pressure) in new[] { (-200, -200, "0.1"), (-200, 450, "110"), (450, 450, "0.1"), (450, 450, "60") })
        {
            await service.Client.IdentifiedAsync(
                $$"""
                {
                  "derivatives": [{ "kind": "oxime", "meltingRange": { "onsetCelsius": {{low}}, "clearPointCelsius": {{high}} } }],
                  "boilingPoint": { "range": { "onsetCelsius": {{low}}, "clearPointCelsius": {{high}} }, "pressureKilopascals": {{pressure}} },
                  "meltingPoint": { "onsetCelsius": {{low}}, "clearPointCelsius": {{high}}, "decomposes": true },
                  "molarMass": { "gramsPerMole": 2000, "uncertaintyGramsPerMole": 0.01 },
                  "windowCelsius": 0.1,
                  "prior": { "weights": { "propanone": 0.000001, "butanone": 1000000 }, "noneOfThese": 0 },
                  "maximumCandidates": 500
                }
                """);
        }
    }
}

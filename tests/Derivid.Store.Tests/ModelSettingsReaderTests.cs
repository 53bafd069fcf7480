using System.Text;
using System.Text.Json.Nodes;
using Derivid.Core.Ranking;
using Derivid.Store.Seeding;
using Derivid.Testing;

namespace Derivid.Store.Tests;

/// <summary>A settings file is taken whole and in its own words, or not at all.</summary>
public sealed class ModelSettingsReaderTests
{
    private static JsonArray Numbers(JsonNode file) => file["numbers"]!.AsArray();

    [Fact]
    public void EveryNumberOfTheFileReachesItsSetting()
    {
        var file = SettingsFile();
        var place = 0;
        foreach (var number in Numbers(file))
        {
            number!["value"] = ++place;
        }

        var read = Flat(Read(file)).ToDictionary(StringComparer.Ordinal);

        Assert.Equal(Numbers(file).Count, read.Count);
        Assert.All(Numbers(file), number => Assert.Equal(number!["value"]!.GetValue<int>(), read[number["name"]!.GetValue<string>()]));
    }

    [Fact]
    public void MissingNumberIsRefusedByItsName()
    {
        var file = SettingsFile();
        Numbers(file).Remove(Numbers(file).Single(number => number!["name"]!.GetValue<string>() == "depression.baseCelsius"));

        Refused(file, "baseCelsius");
    }

    [Theory]
    [InlineData("depression.baseKelvin", "fitted", "measured", "baseKelvin")]
    [InlineData("depression.baseCelsius", "fitted", "measured", "depression.baseCelsius stands there twice")]
    [InlineData("groupLogRatio.x", "fitted", "measured", "groupLogRatio is one number and has parts")]
    [InlineData("scatterFactorByKind.x", "guessed", "a feeling", "origin must be published or fitted or chosen")]
    [InlineData("scatterFactorByKind.x", "chosen", " ", "with a basis")]
    public void AnotherNumberIsRefused(string name, string origin, string basis, string said)
    {
        var file = SettingsFile();
        Numbers(file).Add(new JsonObject
        {
            ["name"] = name, ["value"] = 1, ["unit"] = "1", ["origin"] = origin, ["basis"] = basis, ["ifWrong"] = "",
        });

        Refused(file, said);
    }

    [Theory]
    [InlineData("null")]
    [InlineData("no JSON")]
    public void WhatIsNoSettingsFileIsRefused(string text) =>
        Assert.Throws<InvalidDataException>(() => ModelSettingsReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(text))));

    private static JsonNode SettingsFile() => JsonNode.Parse(File.ReadAllText(RepositoryFiles.At("seed-tables", "model-settings.json")))!;

    private static ModelSettings Read(JsonNode file) =>
        ModelSettingsReader.Read(new MemoryStream(Encoding.UTF8.GetBytes(file.ToJsonString())));

    private static void Refused(JsonNode file, string said) =>
        Assert.Contains(said, Assert.Throws<InvalidDataException>(() => Read(file)).Message, StringComparison.Ordinal);

    // The numbers of the settings by the names the file gives them, found without the reader's help.
    private static IEnumerable<(string Name, double Value)> Flat(object settings, string prefix = "") =>
        from property in settings.GetType().GetProperties().Where(property => property.CanWrite)
        let name = prefix + char.ToLowerInvariant(property.Name[0]) + property.Name[1..]
        from number in property.GetValue(settings) switch
        {
            double value => [(name, value)],
            IReadOnlyDictionary<string, double> values => values.Select(pair => (name + "." + pair.Key, pair.Value)),
            string => [],
            var part => Flat(part!, name + "."),
        }
        select number;
}

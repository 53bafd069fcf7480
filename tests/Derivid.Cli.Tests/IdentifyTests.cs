using System.Text.Json;
using Derivid.Core.Observations;

namespace Derivid.Cli.Tests;

/// <summary>derivid identify.</summary>
public sealed class IdentifyTests(ServiceUnderTest service)
{
    private const string Benzaldehyde =
        """
        { "derivatives": [{ "kind": "2,4-DNPH", "meltingRange": "237-238 °C", "colour": "orange-red" }],
          "spotTests": [{ "test": "Tollens", "outcome": "positive" }] }
        """;

    private static readonly string[] Observed =
        ["identify", "--derivative", "2,4-DNPH=237-238 °C; orange-red; recrystallised", "--test", "Tollens=+", "--test", "Fehling=-"];

    private readonly Shell _shell = new(service);

    [Fact]
    public async Task OptionsAreAnsweredInWords()
    {
        var ran = (await _shell.RunAsync(Observed)).Exits(ExitCode.Done);

        Assert.Contains("benzaldehyde", ran.Output, StringComparison.Ordinal);
        Assert.Contains("none of the compounds considered", ran.Output, StringComparison.Ordinal);
        Assert.Contains("table version 1", ran.Output, StringComparison.Ordinal);
        Assert.Empty(ran.Error);
    }

    [Fact]
    public async Task JsonIsTheServicesAnswer()
    {
        var ran = (await _shell.RunAsync([.. Observed, "--json", "--candidates", "3"])).Exits(ExitCode.Done);

        Assert.Equal("benzaldehyde", Leading(ran.Json));
        Assert.Equal(3, ran.Json.GetProperty("candidates").GetArrayLength());
        Assert.Contains("°C", ran.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task EveryOptionReachesTheService()
    {
        var ran = (await _shell.RunAsync(
            "identify", "--derivative", "semicarbazone=187-189", "--derivative", "2,4-DNPH=; yellow", "--derivative", "oxime=none", "--derivative",
            "phenylhydrazone=;;;hours", "--mixed", "semicarbazone=propanone; 186-188; 187-189", "--mixed", "itself=benzophenone; 47-48", "--state",
            "liquid", "--boiling-point", "55.5-57 °C", "--pressure", "100.5", "--melting-point", "-95", "--molar-mass", "58", "--molar-mass-uncertainty",
            "2", "--element", "Chlorine", "--no-element", "nitrogen", "--standard", "benzoic-acid=120,9", "--stem-exposed",
            "20", "--stem-temperature", "40", "--window", "2,5", "--shelf", "propanone", "butanone", "--table-version", "1",
            "--json")).Exits(ExitCode.Done);
        using var client = Client.DerividClient.Connect(service.Address);
        var sent = await client.Identifications.GetObservationAsync(
            ran.Json.GetProperty("id").GetString()!, TestContext.Current.CancellationToken);

        Assert.Equal(4, sent.Derivatives!.Count);
        Assert.Contains(sent.Derivatives, d => d is { Kind: "phenylhydrazone", Time: PrecipitateTime.Hours, MeltingRange: null });
        Assert.Contains(
            sent.MixedMeltings!,
            m => m is { Kind: "semicarbazone", Partner: "propanone", Range.Figures.ClearPointCelsius: 188, AuthenticRange.Figures.OnsetCelsius: 187 });
        Assert.Contains(sent.MixedMeltings!, m => m is { Kind: null, Partner: "benzophenone", AuthenticRange: null });
        Assert.Contains(
            sent.Derivatives,
            d => d is { Kind: "oxime", Precipitate: Precipitate.None, MeltingRange: null });
        Assert.Contains(sent.Derivatives, d => d.Colour == "yellow" && d.MeltingRange is null);
        Assert.Equal(PhysicalState.Liquid, sent.State);
        Assert.Equal(100.5, sent.BoilingPoint!.PressureKilopascals);
        Assert.Equal(55.5, sent.BoilingPoint.Range.Figures!.OnsetCelsius);
        Assert.Equal(-95, sent.MeltingPoint!.Figures!.ClearPointCelsius);
        Assert.Equal(2, sent.MolarMass!.UncertaintyGramsPerMole);
        Assert.Equal(DetectableElement.Chlorine, Assert.Single(sent.Elements!.Present!));
        Assert.Equal(DetectableElement.Nitrogen, Assert.Single(sent.Elements.Absent!));
        Assert.Equal(120.9, Assert.Single(sent.Thermometer!.Standards!).ReadCelsius);
        Assert.Equal(40, sent.Thermometer.Stem!.StemCelsius);
        Assert.Equal(2.5, sent.WindowCelsius);
        Assert.Equal(1, sent.TableVersion);
        Assert.Equal(2, sent.Prior!.ShelfList?.Count ?? sent.Prior.Weights!.Count);
    }

    [Fact]
    public async Task FileAndStandardInputAreSentAsTheyAre()
    {
        var file = Path.GetTempFileName();
        await File.WriteAllTextAsync(file, Benzaldehyde, TestContext.Current.CancellationToken);
        var fromFile = (await _shell.RunAsync("identify", "--file", file, "--json")).Exits(ExitCode.Done);
        var fromInput = (await (_shell with { Input = Benzaldehyde }).RunAsync("identify", "-f", "-", "--json"))
            .Exits(ExitCode.Done);
        File.Delete(file);

        Assert.Equal("benzaldehyde", Leading(fromFile.Json));
        Assert.Equal(fromFile.Output, fromInput.Output);
    }

    [Fact]
    public async Task BatchTellsWhatWasRefused()
    {
        var batch = _shell with
        {
            Input = $$"""
                { "items": [{ "reference": "flask 7", "observation": {{Benzaldehyde}} },
                            { "reference": "flask 8", "observation": { "meltingPoint": "warm" } }] }
                """,
        };
        var words = (await batch.RunAsync("identify", "--file", "-")).Exits(ExitCode.AnswerIsNo);
        var json = (await batch.RunAsync("identify", "--file", "-", "--json")).Exits(ExitCode.AnswerIsNo).Json;

        Assert.Contains("flask 7", words.Output, StringComparison.Ordinal);
        Assert.StartsWith("  2, flask 8: /items/1/observation/meltingPoint: ", Assert.Single(words.Output.Split('\n'), line => line.Contains("/items/1", StringComparison.Ordinal)), StringComparison.Ordinal);
        Assert.Equal(1, json.GetProperty("refused").GetInt32());
    }

    [Fact]
    public async Task NoneOfTheseIsANo() =>
        (await _shell.RunAsync("identify", "--derivative", "2,4-DNPH=29-31 °C; yellow")).Exits(ExitCode.AnswerIsNo);

    [Fact]
    public async Task WhatIsNotStoredCannotBeFetched()
    {
        var ran = (await _shell.RunAsync("identify", "--melting-point", "41.3", "--no-store", "--json")).Exits(ExitCode.Done);
        using var client = Client.DerividClient.Connect(service.Address);

        var refusal = await Assert.ThrowsAsync<Client.DerividException>(() => client.Identifications.GetAsync(
            ran.Json.GetProperty("id").GetString()!, TestContext.Current.CancellationToken));
        Assert.Equal("urn:derivid:problem:not-found", refusal.Type);
    }

    [Fact]
    public async Task RefusalNamesThePlaceAndIsJsonForScripts()
    {
        var words = (await _shell.RunAsync("identify", "--derivative", "2,4-DNPH=127-125")).Exits(ExitCode.Refused);
        var json = (await _shell.RunAsync("identify", "--derivative", "2,4-DNPH=127-125", "--json")).Exits(ExitCode.Refused);

        Assert.StartsWith("derivid: /derivatives/0/meltingRange: ", Assert.Single(words.Error.TrimEnd().Split('\n')), StringComparison.Ordinal);
        Assert.Empty(words.Output);
        Assert.Equal("urn:derivid:problem:melting-range-reversed", json.Json.GetProperty("type").GetString());
    }

    [Fact]
    public async Task BrokenJsonIsTheServicesToRefuse() =>
        (await (_shell with { Input = "{" }).RunAsync("identify", "--file", "-")).Exits(ExitCode.Refused);

    [Theory]
    [InlineData("--window", "2,5,0")]
    [InlineData("--test", "iodoform")]
    [InlineData("--test", "iodoform=perhaps")]
    [InlineData("--derivative", "2,4-DNPH")]
    [InlineData("--derivative", "2,4-DNPH=125; yellow; boiled")]
    [InlineData("--derivative", "2,4-DNPH=125; yellow; crude; again")]
    [InlineData("--element", "gold")]
    [InlineData("--standard", "benzoic-acid=hot")]
    [InlineData("--pressure", "100")]
    [InlineData("--stem-exposed", "100")]
    [InlineData("--candidates", "three")]
    [InlineData("--file", "no-such-file")]
    [InlineData("--colour", "yellow")]
    public async Task WrongWordsAreNotSent(params string[] words)
    {
        var ran = (await _shell.RunAsync(["identify", .. words])).Exits(ExitCode.Usage);

        Assert.StartsWith("derivid: ", ran.Error, StringComparison.Ordinal);
        Assert.Empty(ran.Output);
    }

    [Fact]
    public async Task NothingObservedIsAskedFor() =>
        Assert.Contains("--derivative", (await _shell.RunAsync("identify")).Exits(ExitCode.Usage).Error, StringComparison.Ordinal);

    [Theory]
    [InlineData(false, "", false)]
    [InlineData(true, "1", false)]
    [InlineData(true, "", true)]
    public async Task ColourIsForTerminalsWhereItIsWanted(bool isTerminal, string noColour, bool isColoured)
    {
        const string Warning = "Careful with this answer";
        var shell = _shell with { IsTerminal = isTerminal };
        shell.Variables["NO_COLOR"] = noColour;
        var ran = await shell.RunAsync("identify", "--derivative", "2,4-DNPH=100-125; yellow; crude");

        Assert.Contains(Warning, ran.Output, StringComparison.Ordinal);
        Assert.Equal(isColoured, ran.Output.Contains('\e', StringComparison.Ordinal));
    }

    private static string? Leading(JsonElement answer) =>
        answer.GetProperty("candidates")[0].GetProperty("parent").GetProperty("key").GetString();
}

namespace Derivid.Cli.Tests;

/// <summary>derivid reading-guide.</summary>
public sealed class ReadingGuideTests(ServiceUnderTest service)
{
    private readonly Shell _shell = new(service);

    [Fact]
    public async Task GuideIsToldInWordsCautionsFirst()
    {
        var ran = (await _shell.RunAsync("reading-guide", "2,4-DNPH", "--parent", "acetone", "--read", "112-118", "--preparation", "crude")).Exits(ExitCode.Done);

        foreach (var said in new[]
        {
            "Reading the melting range of propanone 2,4-dinitrophenylhydrazone", "Listed to melt at", "What is seen, and what counts", "min in all",
            "This is a bound", "Impurity, law of Schröder and van Laar", "local rules", "colorado-melting-point",
        })
        {
            Assert.Contains(said, ran.Output, StringComparison.Ordinal);
        }

        Assert.True(ran.Output.IndexOf("Cautions", StringComparison.Ordinal) < ran.Output.IndexOf("°C/min", StringComparison.Ordinal));
        // Elsewhere than on a terminal steps are lines, no table as wide as the longest of them.
        Assert.Contains("\n  1. Heat a spare tube", ran.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("──", ran.Output, StringComparison.Ordinal);
        Assert.Empty(ran.Error);
    }

    [Fact]
    public async Task EveryOptionReachesTheService()
    {
        var file = Path.Combine(Path.GetTempPath(), Guid.NewGuid() + ".json");
        await File.WriteAllTextAsync(
            file, """{ "derivatives": [ { "kind": "2,4-DNPH", "meltingRange": "105-118", "preparation": "crude" } ] }""", TestContext.Current.CancellationToken);
        try
        {
            var guide = (await _shell.RunAsync(
                "reading-guide", "oxime", "--expected", "141-143", "--read", "137-139,5", "--preparation", "recrystallised", "--enthalpy", "21,5", "--reach", "250",
                "--sublimes", "--standard", "benzoic-acid=121.35", "--observation", file, "--table-version", "1", "--json")).Exits(ExitCode.Done).Json;

            Assert.Equal("sent", guide.GetProperty("expectedBasis").GetString());
            Assert.Equal(1, guide.GetProperty("thermometer").GetProperty("correctionCelsius").GetDouble(), tolerance: 1e-6);
            Assert.Equal(140.5, guide.GetProperty("purity").GetProperty("correctedCelsius").GetProperty("high").GetDouble(), tolerance: 1e-6);
            Assert.Equal(21.5, guide.GetProperty("purity").GetProperty("kilojoulesPerMole").GetProperty("high").GetDouble(), tolerance: 1e-6);
            Assert.Contains(guide.GetProperty("cautions").EnumerateArray(), caution => caution.GetProperty("subject").GetString() == "closed tubes");
            Assert.StartsWith("No", guide.GetProperty("recrystallisation").GetProperty("sentence").GetString(), StringComparison.Ordinal);
        }
        finally
        {
            File.Delete(file);
        }
    }

    [Fact]
    public async Task AStandardIsNamedInThePlaceOfACompound()
    {
        var guide = (await _shell.RunAsync("reading-guide", "--of-standard", "benzoic-acid", "--json")).Exits(ExitCode.Done).Json;

        Assert.Equal("benzoic-acid", guide.GetProperty("standardKey").GetString());
        (await _shell.RunAsync("reading-guide", "oxime", "--of-standard", "benzoic-acid")).Exits(ExitCode.Refused);
    }

    [Theory]
    [InlineData("reading-guide", "--reach", "far")]
    [InlineData("reading-guide", "--preparation", "boiled")]
    [InlineData("reading-guide", "--observation", "nowhere.json")]
    public async Task WhatIsWrittenWronglyIsNotSent(params string[] words) => (await _shell.RunAsync(words)).Exits(ExitCode.Usage);
}

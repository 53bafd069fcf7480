namespace Derivid.Cli.Tests;

/// <summary>derivid prepare.</summary>
public sealed class PrepareTests(ServiceUnderTest service)
{
    private readonly Shell _shell = new(service);

    [Fact]
    public async Task PreparationIsToldInWordsCautionsFirst()
    {
        var ran = (await _shell.RunAsync("prepare", "2,4-DNPH", "--parent", "acetone", "--mg", "100", "--portions", "4")).Exits(ExitCode.Done);

        foreach (var said in new[]
        {
            "Propanone 2,4-dinitrophenylhydrazone", "2,4-dinitrophenylhydrazine (can explode)", "C3H6O + C6H6N4O4 − H2O = C9H10N4O4", "410",
            "for 4 tests, 3 mL each [improved-dnph-reagent]", "512 mg (343 mg without the water)", "What a failure looks like", "local rules", "An Improved Preparation",
        })
        {
            Assert.Contains(said, ran.Output, StringComparison.Ordinal);
        }

        Assert.True(ran.Output.IndexOf("can explode", StringComparison.Ordinal) < ran.Output.IndexOf("theoretical yield", StringComparison.Ordinal));
        Assert.Empty(ran.Error);
    }

    /// <summary>By hand: 100 mg of the hydrochloride (111.53) to 120.15 mg (1 mmol) of acetophenone is 0.897 mmol, so it limits.</summary>
    [Fact]
    public async Task EveryOptionReachesTheService()
    {
        var sheet = (await _shell.RunAsync(
            "prepare", "semicarbazone", "--parent", "acetophenone", "--mg", "120,15", "--density", "1.03", "--carbonyls", "1", "--reagent-mg", "100",
            "--reagent-form", "semicarbazide-hydrochloride", "--product-mg", "127", "--portions", "3", "--table-version", "1", "--json")).Exits(ExitCode.Done).Json;

        Assert.Equal("reagent", sheet.GetProperty("limiting").GetString());
        Assert.Equal(0.897, sheet.GetProperty("reagent").GetProperty("millimoles").GetDouble(), tolerance: 0.001);
        Assert.Equal(0.1167, sheet.GetProperty("carbonyl").GetProperty("millilitres").GetDouble(), tolerance: 0.0001);
        // 0.897 mmol of 177.20 g/mol is 158.9 mg.
        Assert.Equal(127 / 158.9, sheet.GetProperty("yield").GetProperty("share").GetProperty("low").GetDouble(), tolerance: 0.001);
        Assert.All(sheet.GetProperty("recipes").EnumerateArray(), recipe => Assert.Equal(3, recipe.GetProperty("portions").GetInt32()));
    }

    [Fact]
    public async Task UnknownIsGivenByItsMolarMassAndExcessInPerCent()
    {
        var sheet = (await _shell.RunAsync("prepare", "oxime", "--molar-mass", "90–130", "--mg", "200", "--excess", "50", "--json")).Exits(ExitCode.Done).Json;

        Assert.Equal(0.5, sheet.GetProperty("reagent").GetProperty("excess").GetProperty("low").GetDouble(), tolerance: 1e-6);
        Assert.Equal((130, 90), (sheet.GetProperty("carbonyl").GetProperty("molarMass").GetProperty("high").GetDouble(), sheet.GetProperty("carbonyl").GetProperty("molarMass").GetProperty("low").GetDouble()));
    }

    [Fact]
    public async Task UnsafeScaleIsRefusedWithTheReason()
    {
        var ran = (await _shell.RunAsync("prepare", "2,4-DNPH", "--parent", "acetone", "--mg", "2000")).Exits(ExitCode.Refused);

        Assert.Contains("20 to 500 mg is allowed", ran.Error, StringComparison.Ordinal);
        Assert.Empty(ran.Output);
    }

    [Theory]
    [InlineData("prepare", "oxime", "--parent", "acetone")]
    [InlineData("prepare", "oxime", "--mg", "much", "--parent", "acetone")]
    [InlineData("prepare", "oxime", "--mg", "100", "--molar-mass", "90-130-150")]
    public async Task WhatIsWrittenWronglyIsNotSent(params string[] words) => (await _shell.RunAsync(words)).Exits(ExitCode.Usage);
}

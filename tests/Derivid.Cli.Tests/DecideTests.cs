namespace Derivid.Cli.Tests;

/// <summary>derivid decide and derivid what-if.</summary>
public sealed class DecideTests(ServiceUnderTest service)
{
    private readonly Shell _shell = new(service);

    [Fact]
    public async Task ASheetIsToldPointByPoint()
    {
        var ran = (await _shell.RunAsync(
            "decide", "--shelf", "acetone", "pinacolone", "--kinds", "2,4-DNPH", "semicarbazone", "--tests", "iodoform", "--no-constants",
            "--hazard-minutes", "0", "--certainty", "90", "--none", "1")).Exits(ExitCode.Done);

        foreach (var said in new[]
        {
            "2 compounds: propanone, 3,3-dimethylbutan-2-one", "1. Make the semicarbazone and read its clear point (60 min, moderate hazard)",
            "propanone (", "This sheet brings", "local rules", "model version",
        })
        {
            Assert.Contains(said, ran.Output, StringComparison.Ordinal);
        }

        Assert.Empty(ran.Error);
    }

    [Fact]
    public async Task WhatIfSaysWhoWouldLead()
    {
        var ran = (await _shell.RunAsync(
            "what-if", "derivative", "semicarbazone", "--derivative", "2,4-DNPH=124-126;;recrystallised", "--shelf", "acetone", "pinacolone")).Exits(ExitCode.Done);

        Assert.Contains("Make the semicarbazone and read its clear point", ran.Output, StringComparison.Ordinal);
        Assert.Contains("propanone 9", ran.Output, StringComparison.Ordinal);
        Assert.Contains("3,3-dimethylbutan-2-one 9", ran.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatIsWrongIsSaid()
    {
        Assert.Contains("boilingPoint", (await _shell.RunAsync("what-if", "guess")).Exits(ExitCode.Usage).Error, StringComparison.Ordinal);
        Assert.Contains("60 to 99.9 %", (await _shell.RunAsync("decide", "--shelf", "acetone", "butanone", "--certainty", "100")).Exits(ExitCode.Usage).Error, StringComparison.Ordinal);
        Assert.Contains("listed already", (await _shell.RunAsync("decide", "--shelf", "acetone", "propanone")).Exits(ExitCode.Refused).Error, StringComparison.Ordinal);
    }
}

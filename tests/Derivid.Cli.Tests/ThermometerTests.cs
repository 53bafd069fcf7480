namespace Derivid.Cli.Tests;

/// <summary>derivid thermometers, and an observation that names one. Readings are made up.</summary>
public sealed class ThermometerTests(ServiceUnderTest service)
{
    private readonly Shell _shell = Shell.OfAdministrator(service);

    [Fact]
    public async Task ThermometerIsRegisteredCheckedAndNamed()
    {
        var id = (await _shell.RunAsync("thermometers", "register", "Bench 3 (invented)", "--liquid", "petroleum", "--json"))
            .Exits(ExitCode.Done).Json.GetProperty("id").GetString()!;
        var known = (await _shell.RunAsync(
            "thermometers", "check", id, "--standard", "naphthalene=77.26", "--standard", "benzoic-acid=119.35", "--standard", "caffeine=233", "--melted-at", "2026-03-02T10:30+01:00"))
            .Exits(ExitCode.Done);
        var listed = (await _shell.RunAsync("thermometers", "list")).Exits(ExitCode.Done);
        var shown = (await _shell.RunAsync("thermometers", "show", id)).Exits(ExitCode.Done);
        var identified = (await _shell.RunAsync("identify", "--derivative", "2,4-DNPH=122-123", "--thermometer", id, "--json")).Exits(ExitCode.Done);

        Assert.Contains(id, listed.Output, StringComparison.Ordinal);
        Assert.Matches(@"120 +│? +3(\.0)? +│? +0\.\d", shown.Output.Replace("|", "", StringComparison.Ordinal));
        Assert.Equal(known.Output, shown.Output);
        var reading = identified.Json.GetProperty("readings")[0];
        Assert.Equal(126, reading.GetProperty("asUsed").GetProperty("clearPointCelsius").GetDouble(), 1e-9);
        (await _shell.RunAsync("identify", "--derivative", "2,4-DNPH=122-123", "--stem-liquid", "alcohol")).Exits(ExitCode.Usage);
    }
}

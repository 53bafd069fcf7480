namespace Derivid.Cli.Tests;

/// <summary>derivid course demo.</summary>
public sealed class DemoTests(ServiceUnderTest service)
{
    [Fact]
    public async Task OneCommandMakesAWholeCycleMarkedAsInvented()
    {
        var ran = (await Shell.OfAdministrator(service).RunAsync("course", "demo", "--json")).Exits(ExitCode.Done).Json;

        var totals = ran.GetProperty("grading").GetProperty("grades").EnumerateArray()
            .ToDictionary(grade => grade.GetProperty("student").GetString()!, grade => grade.GetProperty("total").GetDouble());
        Assert.True(ran.GetProperty("course").GetProperty("isInvented").GetBoolean());
        Assert.Equal(12, totals.Count);
        Assert.All(totals.Keys, student => Assert.StartsWith("invented-", student, StringComparison.Ordinal));

        // The last student claims the runner-up, and the thermometers of bench C read high.
        Assert.Equal("invented-12", totals.MinBy(total => total.Value).Key);
        Assert.Contains(
            ran.GetProperty("overview").GetProperty("suggestions").EnumerateArray(),
            suggestion => suggestion.GetProperty("key").GetString() == "C");
    }
}

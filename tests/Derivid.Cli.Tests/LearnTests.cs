using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Cli.Tests;

/// <summary>derivid learn, where no class has taught anything yet; what classes teach is tried over HTTP.</summary>
public sealed class LearnTests : IAsyncLifetime
{
    private readonly ServiceUnderTest _service = new();
    private Shell _curator = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        await _service.InitializeAsync();
        using var administrator = DerividClient.Connect(_service.Address, ServiceUnderTest.AdministratorKey);
        var key = await administrator.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = Role.Instructor }, cancellationToken: Token);
        _curator = Shell.With(_service, key.Key);
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task CourseOptsInAndNothingIsLearnedBeforeItIsPublished()
    {
        var made = (await _curator.RunAsync("course", "create", "--name", "Made up", "--shelf", "acetone", "benzaldehyde", "--learned-from", "--json")).Exits(ExitCode.Done);
        var id = System.Text.Json.JsonElement.Parse(made.Output).GetProperty("id").GetString()!;
        var status = (await _curator.RunAsync("course", "status", id)).Exits(ExitCode.Done);
        var renamed = (await _curator.RunAsync("course", "change", id, "--name", "Renamed", "--json")).Exits(ExitCode.Done);
        var withdrawn = (await _curator.RunAsync("course", "change", id, "--learned-from", "false", "--json")).Exits(ExitCode.Done);
        var look = (await _curator.RunAsync("learn")).Exits(ExitCode.Done);
        var proposed = (await _curator.RunAsync("learn", "--propose", "--reason", "a try")).Exits(ExitCode.Refused);

        Assert.Contains("the table may learn from it", status.Output, StringComparison.Ordinal);
        Assert.True(System.Text.Json.JsonElement.Parse(renamed.Output).GetProperty("isLearnedFrom").GetBoolean());
        Assert.False(System.Text.Json.JsonElement.Parse(withdrawn.Output).GetProperty("isLearnedFrom").GetBoolean());
        Assert.Contains("0 courses counted, 0 more wait; 0 records would change.", look.Output, StringComparison.Ordinal);
        Assert.Contains("'derivid learn' tells how many wait", proposed.Error, StringComparison.Ordinal);
    }
}

using Derivid.Client;
using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Cli.Tests;

/// <summary>derivid verify: a sheet is taken, filled in and sent back. The page is made up.</summary>
public sealed class VerifyTests : IAsyncLifetime
{
    private const string Source = "dewiki-aceton";

    private readonly ServiceUnderTest _service = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("derivid-cli-").FullName;
    private Shell _curator = null!;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    private string File => Path.Combine(_folder, "page.csv");

    public async ValueTask InitializeAsync()
    {
        await _service.InitializeAsync();
        using var administrator = DerividClient.Connect(_service.Address, ServiceUnderTest.AdministratorKey);
        var key = await administrator.Keys.CreateAsync(new KeyRequest { Name = "made up", Role = Role.Instructor }, cancellationToken: Token);
        _curator = Shell.With(_service, key.Key);
    }

    public async ValueTask DisposeAsync()
    {
        await _service.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task WhatIsMostWorthCheckingIsListedAndLaidOut()
    {
        var first = (await _curator.RunAsync("verify", "first", "--limit", "2", "--kind", "oxime")).Exits(ExitCode.Done);
        var json = (await _curator.RunAsync("verify", "first", "--limit", "2", "--json")).Exits(ExitCode.Done);
        var sheet = (await _curator.RunAsync("verify", "sheet", Source, "--first", "2")).Exits(ExitCode.Done);

        Assert.Contains("more right of 1,000", first.Output, StringComparison.Ordinal);
        Assert.Contains("lines have no value that was read or confirmed", first.Output, StringComparison.Ordinal);
        foreach (var line in System.Text.Json.JsonDocument.Parse(json.Output).RootElement.GetProperty("lines").EnumerateArray())
        {
            Assert.Contains(line.GetProperty("key").GetString()!, sheet.Output, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task SheetGoesOutAndComesBackFilledIn()
    {
        (await _curator.RunAsync("verify", "sheet", Source, "--kind", "oxime", "--kind", "semicarbazone", "--limit", "3", "-o", File)).Exits(ExitCode.Done);
        var rows = await System.IO.File.ReadAllLinesAsync(File, Token);
        Assert.Equal(4, rows.Length);
        Assert.All(rows.Skip(1), row => Assert.EndsWith(",,", row, StringComparison.Ordinal));
        await System.IO.File.WriteAllLinesAsync(File, [rows[0], rows[1][..^2] + ",301-302 dec.,yellow", rows[2][..^2] + ",-,", rows[3]], Token);

        var sent = (await _curator.RunAsync("verify", "send", File, "--source", Source, "--locator", "p. 1", "--idempotency-key", "page-1")).Exits(ExitCode.Done);
        var again = (await _curator.RunAsync("verify", "send", File, "--source", Source, "--locator", "p. 1", "--idempotency-key", "page-1", "--json")).Exits(ExitCode.Done);
        var progress = (await _curator.RunAsync("verify", "progress")).Exits(ExitCode.Done);
        var next = (await _curator.RunAsync("verify", "sheet", Source, "--kind", "oxime", "--limit", "1", "--json")).Exits(ExitCode.Done);

        Assert.Contains("differs", sent.Output, StringComparison.Ordinal);
        Assert.Contains("notPrinted", sent.Output, StringComparison.Ordinal);
        Assert.Contains("What follows is in proposal " + again.Json.GetProperty("proposalId").GetString(), sent.Output, StringComparison.Ordinal);
        Assert.Equal("301-302 dec.", again.Json.GetProperty("lines")[0].GetProperty("asPrinted").GetString());
        Assert.Matches(Source + @"\s+2\s+0\s+1\s+1\s+0\s+0", progress.Output);
        Assert.DoesNotContain(rows[1].Split(',')[0], next.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task WhatIsWrongIsToldByLine()
    {
        await System.IO.File.WriteAllTextAsync(File, "key,as_printed\npropanone-oxime-1,soon\nnowhere,50\n", Token);

        var refused = (await _curator.RunAsync("verify", "send", File, "--source", Source)).Exits(ExitCode.Refused);

        Assert.Contains("line 2, as_printed", refused.Error, StringComparison.Ordinal);
        Assert.Contains("line 3, key", refused.Error, StringComparison.Ordinal);
    }
}

using System.Text.Json;

namespace Derivid.Cli.Tests;

/// <summary>What came of a run of the command.</summary>
internal sealed record Ran(int Code, string Output, string Error)
{
    public JsonElement Json => JsonDocument.Parse(Output).RootElement;

    public Ran Exits(int code)
    {
        Assert.True(Code == code, $"Exit code {Code}, not {code}.\n{Output}\n{Error}");
        return this;
    }
}

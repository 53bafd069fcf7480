using System.Text.Json;
using Derivid.Client;
using Derivid.Client.Http;
using Spectre.Console;

namespace Derivid.Cli;

/// <summary>One run of one command against a service.</summary>
internal sealed class Session(DerividClient client, Surroundings around, bool asJson) : IDisposable
{
    public DerividClient Client { get; } = client;

    public Surroundings Around { get; } = around;

    public bool AsJson { get; } = asJson;

    /// <summary>Writes the result: for people, or as JSON.</summary>
    public void Show<T>(T result, Action<IAnsiConsole, T> view)
    {
        if (AsJson)
        {
            Around.Output.WriteLine(JsonSerializer.Serialize(result, WireJson.Indented));
        }
        else
        {
            view(Screen.Of(Around.Output, Around.IsOutputTerminal, Around), result);
        }
    }

    public void Dispose() => Client.Dispose();
}

using System.Text.Json;
using Derivid.Client;
using Derivid.Contracts;
using Spectre.Console;

namespace Derivid.Cli;

/// <summary>One run of one command against a service.</summary>
internal sealed class Session(DerividClient client, Uri server, Surroundings around, bool asJson) : IDisposable
{
    /// <summary>The address of the service.</summary>
    public Uri Server { get; } = server;

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

    /// <summary>Follows something to its end, with a progress bar where somebody looks.</summary>
    /// <param name="looks">What each look at it saw; the last is its end.</param>
    /// <param name="first">What was seen first.</param>
    /// <param name="share">How much of it is done, 0 to 1.</param>
    /// <param name="words">How far it is, in words.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<T> FollowAsync<T>(
        IAsyncEnumerable<T> looks,
        T first,
        Func<T, double> share,
        Func<T, string> words,
        CancellationToken cancellationToken)
    {
        if (!Around.IsErrorTerminal)
        {
            return await looks.LastAsync(cancellationToken);
        }

        return await Screen.Of(Around.Error, isTerminal: true, Around).Progress()
            .Columns(new TaskDescriptionColumn(), new ProgressBarColumn(), new PercentageColumn(), new RemainingTimeColumn())
            .StartAsync(async progress =>
            {
                var bar = progress.AddTask(words(first), maxValue: 1);
                var last = first;
                await foreach (var seen in looks)
                {
                    last = seen;
                    bar.Value = share(seen);
                    bar.Description = words(seen);
                }

                return last;
            });
    }

    public void Dispose() => Client.Dispose();
}

/// <summary>What a run of the command has around it.</summary>
/// <param name="Input">Standard input.</param>
/// <param name="Output">Takes results, and nothing else.</param>
/// <param name="RawOutput">The same, for bytes.</param>
/// <param name="Error">Takes refusals, warnings and progress.</param>
/// <param name="Variable">Looks up an environment variable. Missing: null.</param>
/// <param name="IsOutputTerminal">Whether somebody looks at the output.</param>
/// <param name="IsErrorTerminal">Whether somebody looks at the error output.</param>
internal sealed record Surroundings(
    Stream Input,
    TextWriter Output,
    Stream RawOutput,
    TextWriter Error,
    Func<string, string?> Variable,
    bool IsOutputTerminal,
    bool IsErrorTerminal)
{
    public static Surroundings OfProcess() => new(
        Console.OpenStandardInput(),
        Console.Out,
        Console.OpenStandardOutput(),
        Console.Error,
        Environment.GetEnvironmentVariable,
        !Console.IsOutputRedirected,
        !Console.IsErrorRedirected);
}

namespace Derivid.Cli;

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

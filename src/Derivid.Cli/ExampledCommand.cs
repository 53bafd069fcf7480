using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Derivid.Cli;

/// <summary>A command whose help closes with examples.</summary>
/// <param name="name">Its word.</param>
/// <param name="description">What it does.</param>
internal sealed class ExampledCommand(string name, string description) : Command(name, description)
{
    /// <summary>Commands to copy, with what they are for.</summary>
    public required IReadOnlyList<(string Purpose, string Line)> Examples { get; init; }
}

/// <summary>The usual help, and below it the command's examples.</summary>
internal sealed class HelpWithExamples(HelpAction usual) : SynchronousCommandLineAction
{
    public override bool ClearsParseErrors => true;

    public override int Invoke(ParseResult parseResult)
    {
        usual.Invoke(parseResult);
        if (parseResult.CommandResult.Command is ExampledCommand command)
        {
            var output = parseResult.InvocationConfiguration.Output;
            output.WriteLine("Examples:");
            foreach (var (purpose, line) in command.Examples)
            {
                output.WriteLine($"  # {purpose}");
                output.WriteLine("  " + line);
            }
        }

        return ExitCode.Done;
    }
}

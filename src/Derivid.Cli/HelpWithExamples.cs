using System.CommandLine;
using System.CommandLine.Help;
using System.CommandLine.Invocation;

namespace Derivid.Cli;

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

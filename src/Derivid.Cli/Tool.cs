using System.CommandLine;
using Derivid.Client.Problems;

namespace Derivid.Cli;

/// <summary>The command <c>derivid</c>, from its words to its exit code.</summary>
internal static class Tool
{
    /// <summary>Runs it.</summary>
    /// <param name="args">The words after the command's name.</param>
    /// <param name="around">What it has around it.</param>
    /// <param name="cancellationToken">Breaks it off; Ctrl-C does as well.</param>
    /// <returns>One of <see cref="ExitCode"/>.</returns>
    public static async Task<int> RunAsync(
        string[] args, Surroundings around, CancellationToken cancellationToken = default)
    {
        if (args.Any(Secrets.IsKey))
        {
            return Wrong(around, "A key is never taken from the command line, where histories and process lists keep it. "
                + $"Put it into the environment variable {CommonOptions.KeyVariable}, or into a file named by --key-file. "
                + "Treat the one you typed as known, and revoke it.");
        }

        var common = new CommonOptions(around);
        var parsed = DerividCommand.Make(common).Parse(args);
        if (parsed.Errors.Count > 0 && !AsksForHelp(parsed))
        {
            return Wrong(around, string.Join(Environment.NewLine, parsed.Errors.Select(e => e.Message)));
        }

        try
        {
            return await parsed.InvokeAsync(
                new InvocationConfiguration
                {
                    Output = around.Output,
                    Error = around.Error,
                    EnableDefaultExceptionHandler = false,
                },
                cancellationToken);
        }
        catch (UsageException fault)
        {
            return Wrong(around, fault.Message);
        }
        catch (DerividException refusal)
        {
            return new Refusal(refusal).Tell(around, common.IsJson(parsed));
        }
        catch (HttpRequestException fault)
        {
            return Unreachable(around, $"{fault.Message.TrimEnd('.')}. Is the service running, and is --server right?");
        }
        catch (OperationCanceledException fault) when (fault.InnerException is TimeoutException)
        {
            return Unreachable(around, "The service did not answer in time.");
        }
        catch (OperationCanceledException)
        {
            around.Error.WriteLine("derivid: broken off.");
            return ExitCode.BrokenOff;
        }
    }

    private static bool AsksForHelp(ParseResult parsed) => parsed.Action is HelpWithExamples;

    private static int Wrong(Surroundings around, string message)
    {
        around.Error.WriteLine("derivid: " + message);
        around.Error.WriteLine("Help, with examples: derivid --help, derivid COMMAND --help.");
        return ExitCode.Usage;
    }

    private static int Unreachable(Surroundings around, string message)
    {
        around.Error.WriteLine("derivid: " + message);
        return ExitCode.NotReachable;
    }
}

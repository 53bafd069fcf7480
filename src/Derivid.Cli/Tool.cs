using System.CommandLine;
using System.Text;
using Derivid.Client;

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

/// <summary>What a run of the command came to, for scripts.</summary>
internal static class ExitCode
{
    /// <summary>Done, and the answer is yes or simply the answer.</summary>
    public const int Done = 0;

    /// <summary>Done, and the answer is no, or tells of errors or differences.</summary>
    public const int AnswerIsNo = 1;

    /// <summary>The command was written wrongly; nothing was sent.</summary>
    public const int Usage = 2;

    /// <summary>The service refused.</summary>
    public const int Refused = 3;

    /// <summary>The service can't be reached, or is too busy or not ready; the same command may work later.</summary>
    public const int NotReachable = 4;

    /// <summary>Broken off from outside, as by Ctrl-C.</summary>
    public const int BrokenOff = 130;
}

/// <summary>The command was written wrongly, which only shows when it runs: a file that isn't there, say.</summary>
internal sealed class UsageException(string message) : Exception(message);

internal static class EntryPoint
{
    private static Task<int> Main(string[] args)
    {
        if (OperatingSystem.IsWindows())
        {
            Console.OutputEncoding = Encoding.UTF8;
        }

        return Tool.RunAsync(args, Surroundings.OfProcess());
    }
}

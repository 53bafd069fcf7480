namespace Derivid.Cli;

/// <summary>The command was written wrongly, which only shows when it runs: a file that isn't there, say.</summary>
internal sealed class UsageException(string message) : Exception(message);

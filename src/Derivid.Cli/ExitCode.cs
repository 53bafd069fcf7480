namespace Derivid.Cli;

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

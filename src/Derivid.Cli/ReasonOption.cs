using System.CommandLine;

namespace Derivid.Cli;

/// <summary>The option that says why something is changed.</summary>
internal static class ReasonOption
{
    public static Option<string?> Make() => new("--reason")
    {
        Description = "Why, for the audit log.",
        HelpName = "TEXT",
    };
}

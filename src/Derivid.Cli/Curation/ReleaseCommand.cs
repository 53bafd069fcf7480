using System.CommandLine;

namespace Derivid.Cli.Curation;

/// <summary><c>derivid release</c>.</summary>
internal static class ReleaseCommand
{
    public const string Name = "release";

    public static Command Make(CommonOptions common) => StepCommand.Make(
        common,
        Name,
        "Release an approved proposal as the next version of the table.",
        "semicarbazones, page 12",
        (proposals, seen, note, token) => proposals.ReleaseAsync(seen, note, token));
}

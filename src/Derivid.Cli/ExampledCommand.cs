using System.CommandLine;

namespace Derivid.Cli;

/// <summary>A command whose help closes with examples.</summary>
/// <param name="name">Its word.</param>
/// <param name="description">What it does.</param>
internal sealed class ExampledCommand(string name, string description) : Command(name, description)
{
    /// <summary>Commands to copy, with what they are for.</summary>
    public required IReadOnlyList<(string Purpose, string Line)> Examples { get; init; }
}

using System.Text.RegularExpressions;

namespace Derivid.Hostile;

/// <summary>What the inside of the service looks like when it shows where it shouldn't.</summary>
internal static partial class Traces
{
    /// <summary>A stack trace, a type of ours or of the framework's that was thrown, a file of the source, an engine's own words.</summary>
    [GeneratedRegex(@"^\s*at [\w.<>`]+\(|\.cs:line \d|\b(?:System|Microsoft|Npgsql|Derivid)\.[\w.]*Exception\b|SQLite Error|\bSQLSTATE\b", RegexOptions.Multiline)]
    public static partial Regex InText();

    /// <summary>An error in the service's log: nothing that is sent may be the service's own fault.</summary>
    [GeneratedRegex(@"^(?:fail|crit): |Unhandled exception|^\s*at [\w.<>`]+\(", RegexOptions.Multiline)]
    public static partial Regex InLog();
}

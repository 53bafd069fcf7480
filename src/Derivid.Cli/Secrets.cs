using System.Text.RegularExpressions;

namespace Derivid.Cli;

/// <summary>Knows a key when it sees one.</summary>
internal static partial class Secrets
{
    public static bool IsKey(string text) => Key().IsMatch(text);

    [GeneratedRegex("dvd_[0-9a-fA-F]+_[0-9a-fA-F]+")]
    private static partial Regex Key();
}

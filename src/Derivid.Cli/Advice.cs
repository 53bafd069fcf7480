using System.Text;
using System.Text.RegularExpressions;

namespace Derivid.Cli;

/// <summary>The service's advice as whoever types the command can follow it: with its options in place of parameters, headers and addresses.</summary>
internal static partial class Advice
{
    // Longer ones first where one begins another. What is left is reworded by the rules below.
    private static readonly (string Service, string Command)[] Sentences =
    [
        ("The same request with ?store=false is still answered", "With --no-store it is still answered"),
        ("or send store=false where that is possible: so much is not kept for one sender.", "or identify with --no-store: so much is not kept for one sender."),
        ("send yours, or leave store=true out and keep the answer yourself", "name yours by --key-file"),
        ("One made with store=false is not kept", "One made with --no-store is not kept"),
        ("send it again with ?dropsStudents=true", "run it again with --yes"),
        ("send beforeDue, true", "run it again with --before-due"),
        ("Fetch it again, look at what was changed, and send yours with the new ETag.", "Look at what was changed, and run the command again."),
        ("Send If-Match with the ETag of the last answer you have, so that nobody's change is overwritten.", "Run the command again, so that nobody's change is overwritten."),
        ("If-Match names no revision of this; send the ETag of its last answer.", "It was changed meanwhile; look at it, and run the command again."),
        ("was sent before with another address or body; nothing was changed. Use another key.", "was sent before with another command; nothing was changed. Use another --idempotency-key."),
        ("GET /api/v1/keys/current and the page about oneself tell it", "the service's page about oneself tells it"),
        ("GET /api/v1/people and the view of the staff tell those there are", "the service's page of the staff tells those there are"),
        ("GET /api/v1/learning tells how many wait", "'derivid learn' tells how many wait"),
        ("/api/v1/proposals lists them", "'derivid proposals list' lists them"),
        ("/api/v1/table-versions lists them", "they count from 1"),
        ("register it at /api/v1/thermometers", "register it with 'derivid thermometers register'"),
        ("see /api/v1/sources", "'derivid export --list sources' lists them"),
        ("/swagger lists them all", "is this command of another version than the service?"),
    ];

    // Parameters that the command calls otherwise.
    private static readonly Dictionary<string, string> Options = new(StringComparer.Ordinal)
    {
        ["table"] = "--list",
        ["sourceKey"] = "--source",
        ["kinds"] = "--kind",
        ["dryRun"] = "--commit",
        ["dropsStudents"] = "--yes",
    };

    /// <summary>A sentence of the service.</summary>
    /// <param name="sentence">As it came.</param>
    public static string InOwnWords(string sentence)
    {
        var text = new StringBuilder(sentence);
        foreach (var (service, command) in Sentences)
        {
            text.Replace(service, command);
        }

        return Parameter().Replace(text.ToString(), match => OptionOf(match.Groups["name"].Value));
    }

    /// <summary>Where something is wrong.</summary>
    /// <param name="place">A JSON Pointer, or "?" and a parameter.</param>
    public static string PlaceInOwnWords(string place) => place switch
    {
        "" => "(whole body)",
        ['?', .. var parameter] => OptionOf(parameter),
        _ => place,
    };

    private static string OptionOf(string parameter) => Options.GetValueOrDefault(parameter)
        ?? "--" + Capital().Replace(parameter, match => "-" + match.Value.ToLowerInvariant());

    [GeneratedRegex(@"(?<![\w""])\?(?<name>[a-z][A-Za-z]+)(?:=(?:true|false)?)?")]
    private static partial Regex Parameter();

    [GeneratedRegex("[A-Z]")]
    private static partial Regex Capital();
}

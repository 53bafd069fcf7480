using System.ComponentModel.DataAnnotations;
using System.Text.RegularExpressions;
using Derivid.Core.Teaching;

namespace Derivid.Contracts;

/// <summary>A key to be made.</summary>
public sealed record KeyRequest
{
    /// <summary>Days a key is good for when nothing is said.</summary>
    public const int DefaultValidDays = 365;

    /// <summary>Whom or what it is for, such as "grading script, organic lab".</summary>
    public required string Name { get; init; }

    /// <summary>What its holder may do; each role may do all that those before it may: student, grader, instructor, administrator.</summary>
    public required Role Role { get; init; }

    /// <summary>For how long it is good. Units: days. Missing: 365.</summary>
    [Range(1, 3650)]
    public int? ValidDays { get; init; }
}

/// <summary>A key as its holder has it: prefix, public part, an underscore, secret part; the parts in hexadecimal digits.</summary>
public static partial class KeyForm
{
    /// <summary>What every key begins with.</summary>
    public const string Prefix = "dvd_";

    /// <summary>Digits of the public part.</summary>
    public const int IdDigits = 16;

    /// <summary>Digits of the secret part.</summary>
    public const int SecretDigits = 64;

    /// <summary>How long every key is. Units: characters.</summary>
    public static int Length => Prefix.Length + IdDigits + 1 + SecretDigits;

    /// <summary>Whether a text holds a key, or so much of one that the rest can be guessed.</summary>
    /// <param name="text">Any text.</param>
    public static bool IsIn(ReadOnlySpan<char> text) => PlaceIn(text) is not null;

    /// <summary>Where in a text the first such key begins. Missing: null, it holds none.</summary>
    /// <param name="text">Any text.</param>
    public static int? PlaceIn(ReadOnlySpan<char> text)
    {
        foreach (var key in Whole().EnumerateMatches(text))
        {
            return key.Index;
        }

        return null;
    }

    // Half of the secret part and more: somebody who copied a key badly has still shown it.
    [GeneratedRegex(Prefix + "[0-9a-f]{16}_[0-9a-f]{32}", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex Whole();
}

/// <summary>A key just made.</summary>
/// <param name="Key">The whole key. It is shown this once and can't be fetched again.</param>
/// <param name="Details">All about it that can be fetched later.</param>
public sealed record KeyMade(string Key, KeyItem Details);

/// <summary>A key given out, without its secret.</summary>
/// <param name="Id">Public part, which names it here and in the audit log.</param>
/// <param name="Name">Whom or what it was made for.</param>
/// <param name="Role">What its holder may do.</param>
/// <param name="IsUsable">Whether it still opens anything.</param>
/// <param name="CreatedAt">When it was made (RFC 3339, UTC).</param>
/// <param name="CreatedBy">Who made it, as the audit log names them.</param>
/// <param name="ExpiresAt">From when on it is refused. Missing: it doesn't expire.</param>
/// <param name="RevokedAt">Since when it is refused. Missing: it wasn't revoked.</param>
/// <param name="LastUsedOn">The day (UTC) it was last used. Missing: never.</param>
public sealed record KeyItem(
    string Id,
    string Name,
    Role Role,
    bool IsUsable,
    DateTime CreatedAt,
    string CreatedBy,
    DateTime? ExpiresAt,
    DateTime? RevokedAt,
    DateOnly? LastUsedOn);

/// <summary>Who the service takes the sender for.</summary>
/// <param name="Actor">As the audit log names them: "key:" and the public part, or "sign-in:" with subject and issuer.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Key">The key that was sent. Missing: they signed in at the institution.</param>
public sealed record CallerItem(string Actor, Role Role, KeyItem? Key);

/// <summary>Somebody who teaches, grades or curates here with a key.</summary>
/// <param name="Actor">As the audit log names them, and a course's staff: "key:" and the public part.</param>
/// <param name="Name">Whom or what their key was made for.</param>
/// <param name="Role">What they may do.</param>
/// <param name="IsUsable">Whether their key still opens anything.</param>
public sealed record PersonItem(string Actor, string Name, Role Role, bool IsUsable);

/// <summary>What the list of keys can be asked.</summary>
public sealed record KeyQuery : PageQuery
{
    /// <summary>Keys of one role. Missing: of any.</summary>
    public Role? Role { get; init; }

    /// <summary>True: keys that open something; false: revoked and expired ones. Missing: both.</summary>
    public bool? IsUsable { get; init; }
}

using System.Globalization;
using Derivid.Core.Teaching;

namespace Derivid.Store.Access;

/// <summary>A key given out: everything but its secret, of which only the hash is kept.</summary>
/// <remarks>Never deleted, because the audit log names it; a revoked one stays revoked.</remarks>
public sealed class ApiKey
{
    /// <summary>Public part, which names the key in lists and in the audit log.</summary>
    public required string Id { get; init; }

    /// <summary>SHA-256 of the secret part.</summary>
    public required byte[] SecretHash { get; init; }

    /// <summary>Whom or what it was made for.</summary>
    public required string Name { get; init; }

    /// <summary>What its holder may do.</summary>
    public required Role Role { get; init; }

    /// <summary>When it was made. Units: UTC.</summary>
    public required DateTime CreatedAtUtc { get; init; }

    /// <summary>Who made it, as the audit log names them.</summary>
    public required string CreatedBy { get; init; }

    /// <summary>From when on it is refused. Units: UTC. Missing: null, it doesn't expire.</summary>
    public DateTime? ExpiresAtUtc { get; init; }

    /// <summary>Since when it is refused. Units: UTC. Missing: null, it wasn't revoked.</summary>
    public DateTime? RevokedAtUtc { get; set; }

    /// <summary>The day (UTC) it was last used; no finer, so that nobody's hours can be read off. Missing: null, never.</summary>
    public DateOnly? LastUsedOn { get; set; }

    /// <summary>Whether it opens anything.</summary>
    /// <param name="now">The instant to tell it for. Units: UTC.</param>
    public bool IsUsable(DateTime now) => RevokedAtUtc is null && !(ExpiresAtUtc <= now);
}

/// <summary>Which keys to list.</summary>
/// <param name="Role">Those of one role. Missing: null, of any.</param>
/// <param name="IsUsable">Those that open something, or those that don't any more. Missing: null, both.</param>
/// <param name="WithStudents">Whether students' are among them.</param>
public sealed record ApiKeyFilter(Role? Role = null, bool? IsUsable = null, bool WithStudents = true);

/// <summary>Where a key stands in lists, oldest first.</summary>
/// <remarks>
/// Its public part tells no time: an operator may have chosen it, and it is seen by whoever reads the audit log or a
/// course's grades. So lists go by the instant the key was made, then the public part.
/// </remarks>
/// <param name="CreatedAtUtc">When it was made. Units: UTC.</param>
/// <param name="Id">Its public part.</param>
public readonly record struct ApiKeyPlace(DateTime CreatedAtUtc, string Id)
{
    private const int InstantDigits = 19;

    /// <summary>The place before all keys.</summary>
    public static ApiKeyPlace Start { get; } = new(DateTime.SpecifyKind(DateTime.MinValue, DateTimeKind.Utc), "");

    /// <summary>The place of a key.</summary>
    /// <param name="key">The key.</param>
    public static ApiKeyPlace Of(ApiKey key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return new ApiKeyPlace(key.CreatedAtUtc, key.Id);
    }

    /// <summary>Reads what <see cref="ToString"/> wrote.</summary>
    /// <param name="text">As sent; anybody may have made it up.</param>
    /// <returns>Missing: null, it has not the form of a place.</returns>
    public static ApiKeyPlace? Parse(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.Length > InstantDigits
            && long.TryParse(text.AsSpan(0, InstantDigits), NumberStyles.None, CultureInfo.InvariantCulture, out var ticks)
            && ticks <= DateTime.MaxValue.Ticks
            && text.Skip(InstantDigits).All(char.IsAsciiHexDigitLower)
            ? new ApiKeyPlace(new DateTime(ticks, DateTimeKind.Utc), text[InstantDigits..])
            : null;
    }

    /// <summary>The place as a text, in the order of the places.</summary>
    /// <returns>The instant's ticks, 19 digits, and the public part.</returns>
    public override string ToString() => CreatedAtUtc.Ticks.ToString("D19", CultureInfo.InvariantCulture) + Id;
}

using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Derivid.Core.Teaching.HandOuts;

/// <summary>The secret text from which a hand-out of unknowns can be worked out again.</summary>
/// <remarks>
/// Whoever has the seed, the roster and the shelf list can work out who got what, so it is as secret as the identities and
/// must not be guessable: at least <see cref="ShortestText"/> characters. What students see (the codes) is drawn from it
/// one way and tells nothing of it. Equality: by reference. Thread safety: immutable.
/// Source: key derivation in counter mode with HMAC-SHA-256, NIST SP 800-108 revision 1, one label a purpose.
/// </remarks>
public sealed class HandOutSeed
{
    /// <summary>Fewest characters taken.</summary>
    public const int ShortestText = 16;

    /// <summary>Most characters taken.</summary>
    public const int LongestText = 200;

    private readonly byte[] _key;

    /// <summary>Takes a seed.</summary>
    /// <param name="text">Bounds: 16 to 200 characters. Every character counts, case and spaces too.</param>
    /// <exception cref="ArgumentException">The text is too short or too long.</exception>
    public HandOutSeed(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length is < ShortestText or > LongestText)
        {
            // The seed itself stays out of the message: messages are logged.
            throw new ArgumentException(
                FormattableString.Invariant(
                    $"A seed has {ShortestText} to {LongestText} characters, this one {text.Length}: whoever guesses it can work out every answer."),
                nameof(text));
        }

        _key = Encoding.UTF8.GetBytes(text);
    }

    /// <summary>Never the seed, which would end up in a log.</summary>
    public override string ToString() => "(secret)";

    /// <summary>A generator for one purpose.</summary>
    internal SplitMix64 Stream(string purpose) => new(Number(purpose, ""));

    /// <summary>A number for one purpose and one subject, from which neither the seed nor another number follows.</summary>
    internal ulong Number(string purpose, string subject)
    {
        var bytes = SP800108HmacCounterKdf.DeriveBytes(
            _key, HashAlgorithmName.SHA256, Encoding.UTF8.GetBytes(purpose), Encoding.UTF8.GetBytes(subject), 8);
        return BinaryPrimitives.ReadUInt64BigEndian(bytes);
    }
}

using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;

namespace Derivid.Core.Teaching.HandOuts;

/// <summary>What a hand-out of unknowns is drawn from: a text people choose, and a secret of the course.</summary>
/// <remarks>
/// The text alone tells nothing: people choose what can be guessed, and a student could check guesses against their own code
/// without asking anybody. Text and secret together give the hand-out again. What students see (the codes) is drawn one way
/// and tells nothing of either. Equality: by reference. Thread safety: immutable.
/// Source: key derivation in counter mode with HMAC-SHA-256, NIST SP 800-108 revision 1, one label a purpose.
/// </remarks>
public sealed class HandOutSeed
{
    /// <summary>Length of the secret. Units: bytes.</summary>
    public const int SecretLength = 32;

    /// <summary>Most characters taken.</summary>
    public const int LongestText = 200;

    private readonly byte[] _key;

    /// <summary>Takes text and secret.</summary>
    /// <param name="text">Bounds: 1 to 200 characters. Every character counts, case and spaces too.</param>
    /// <param name="secret">Shape: 32 bytes at random, the same for all hand-outs of a course.</param>
    /// <exception cref="ArgumentException">The text is empty or too long, or the secret has another length.</exception>
    public HandOutSeed(string text, ReadOnlySpan<byte> secret)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length is 0 or > LongestText)
        {
            // The seed itself stays out of the message: messages are logged.
            throw new ArgumentException(
                FormattableString.Invariant($"A seed has 1 to {LongestText} characters, this one {text.Length}."), nameof(text));
        }

        if (secret.Length != SecretLength)
        {
            throw new ArgumentException(
                FormattableString.Invariant($"A secret has {SecretLength} bytes, this one {secret.Length}."), nameof(secret));
        }

        _key = [.. secret, .. Encoding.UTF8.GetBytes(text)];
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

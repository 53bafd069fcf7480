using System.Buffers;
using System.Buffers.Binary;
using System.Security.Cryptography;

namespace Derivid.Store.Databases;

/// <summary>Ids of what is kept: in the order in which it is made, so that a list by id is a list by age.</summary>
/// <remarks>
/// <para>
/// A UUID of version 7 (RFC 9562, 5.7) without hyphens: 48 bits of milliseconds since 1970, 12 bits that count the ids
/// of a millisecond (6.2, method 1), 62 random bits. Of two ids that one process makes, the later one is the greater,
/// also within a millisecond and while its clock stands still or is set back. Ids of several processes are in order as
/// far as their clocks agree.
/// </para>
/// <para>
/// An id tells when its thing was made and can't be guessed, but it is no secret: nothing is opened by knowing it.
/// Thread safety: safe.
/// </para>
/// </remarks>
/// <param name="time">The clock.</param>
public sealed class ResourceIds(TimeProvider time)
{
    /// <summary>Length of an id. Units: characters.</summary>
    public const int Length = 32;

    private const int CounterBits = 12;
    private const int VersionBits = 4;
    private const long Version = 7;

    private static readonly SearchValues<char> Digits = SearchValues.Create("0123456789abcdef");

    // The millisecond and the counter of the last id, as one number.
    private long _last;

    /// <summary>Whether a text can be an id at all.</summary>
    /// <param name="text">The text.</param>
    public static bool IsWellFormed(string text) =>
        text is { Length: Length } && !text.AsSpan().ContainsAnyExcept(Digits);

    /// <summary>Makes one.</summary>
    /// <returns>Shape: 32 hexadecimal digits, lower case.</returns>
    public string New()
    {
        var place = NextPlace();
        var (milliseconds, counter) = (place >> CounterBits, place & ((1 << CounterBits) - 1));
        Span<byte> bytes = stackalloc byte[Length / 2];
        BinaryPrimitives.WriteInt64BigEndian(
            bytes, (milliseconds << (CounterBits + VersionBits)) | (Version << CounterBits) | counter);
        RandomNumberGenerator.Fill(bytes[sizeof(long)..]);
        bytes[sizeof(long)] = (byte)((bytes[sizeof(long)] & 0x3F) | 0x80);
        return Convert.ToHexStringLower(bytes);
    }

    // More than 4096 ids in a millisecond run ahead into the next.
    private long NextPlace()
    {
        var now = time.GetUtcNow().ToUnixTimeMilliseconds() << CounterBits;
        while (true)
        {
            var last = Interlocked.Read(ref _last);
            var next = Math.Max(now, last + 1);
            if (Interlocked.CompareExchange(ref _last, next, last) == last)
            {
                return next;
            }
        }
    }
}

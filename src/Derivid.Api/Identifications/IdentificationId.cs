using System.Buffers;
using System.Security.Cryptography;
using System.Text;

namespace Derivid.Api.Identifications;

/// <summary>Names an identification by its content, so that the same question gets the same name.</summary>
/// <remarks>
/// 26 characters of base32 (RFC 4648, lower case, no padding): the first 130 bits of the SHA-256 of the request in
/// canonical form, which names its table version, a line feed, and the model version.
/// </remarks>
public static class IdentificationId
{
    /// <summary>Length of an id. Units: characters.</summary>
    public const int Length = 26;

    private const string Alphabet = "abcdefghijklmnopqrstuvwxyz234567";

    private static readonly SearchValues<char> Letters = SearchValues.Create(Alphabet);

    /// <summary>Computes the id.</summary>
    /// <param name="canonicalRequest">The request in canonical form, as UTF-8 JSON.</param>
    /// <param name="modelVersion">Version of the model.</param>
    public static string Of(ReadOnlySpan<byte> canonicalRequest, string modelVersion)
    {
        using var hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(canonicalRequest);
        hash.AppendData(Encoding.UTF8.GetBytes("\n" + modelVersion));
        Span<byte> digest = stackalloc byte[SHA256.HashSizeInBytes];
        hash.GetHashAndReset(digest);

        Span<char> id = stackalloc char[Length];
        for (var i = 0; i < Length; i++)
        {
            var bit = i * 5;
            var pair = digest[bit / 8] << 8 | digest[bit / 8 + 1];
            id[i] = Alphabet[pair >> (11 - bit % 8) & 31];
        }

        return new string(id);
    }

    /// <summary>Whether a text can be an id at all.</summary>
    /// <param name="text">The text.</param>
    public static bool IsWellFormed(string text) =>
        text is { Length: Length } && !text.AsSpan().ContainsAnyExcept(Letters);
}

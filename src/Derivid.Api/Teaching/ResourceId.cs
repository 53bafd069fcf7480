using System.Buffers;
using System.Security.Cryptography;

namespace Derivid.Api.Teaching;

/// <summary>Ids of courses, reports and gradings: 16 hexadecimal digits by chance, so that none can be guessed.</summary>
public static class ResourceId
{
    private const int Length = 16;

    private static readonly SearchValues<char> Digits = SearchValues.Create("0123456789abcdef");

    /// <summary>Makes one.</summary>
    public static string New() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(Length / 2));

    /// <summary>Whether a text can be an id at all.</summary>
    /// <param name="text">The text.</param>
    public static bool IsWellFormed(string text) =>
        text is { Length: Length } && !text.AsSpan().ContainsAnyExcept(Digits);
}

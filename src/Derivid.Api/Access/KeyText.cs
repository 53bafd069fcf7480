using System.Security.Cryptography;

namespace Derivid.Api.Access;

/// <summary>A key as its holder has it: <c>dvd_</c>, the public part, <c>_</c>, the secret part.</summary>
/// <remarks>Lives as long as it takes to show or to check it; only the public part and the hash are kept.</remarks>
public sealed class KeyText
{
    /// <summary>What every key begins with.</summary>
    public const string Prefix = "dvd_";

    /// <summary>A key's form in words.</summary>
    public const string Form = "dvd_x_y with 16 times x and 64 times y";

    private const int IdBytes = 8;
    private const int SecretBytes = 32;

    private readonly byte[] _secret;

    private KeyText(string id, byte[] secret) => (Id, _secret) = (id, secret);

    /// <summary>The public part. Shape: 16 hexadecimal digits, lower case.</summary>
    public string Id { get; }

    /// <summary>Makes a key nobody has.</summary>
    public static KeyText New() => new(
        Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(IdBytes)), RandomNumberGenerator.GetBytes(SecretBytes));

    /// <summary>Reads a key.</summary>
    /// <param name="text">As sent.</param>
    /// <returns>Missing: null, it has not the form of a key.</returns>
    public static KeyText? Parse(string text)
    {
        var parts = text.Split('_');
        return parts is ["dvd", var id, { Length: SecretBytes * 2 } secret] && IsId(id) && IsHexadecimal(secret)
            ? new KeyText(id, Convert.FromHexString(secret))
            : null;
    }

    /// <summary>Whether a text has the form of a public part.</summary>
    /// <param name="text">As sent.</param>
    public static bool IsId(string text) => text.Length == IdBytes * 2 && IsHexadecimal(text);

    /// <summary>SHA-256 of the secret part. The secret is 256 random bits, so a slow hash would add nothing.</summary>
    public byte[] SecretHash() => SHA256.HashData(_secret);

    /// <summary>Compares in a time that doesn't depend on the place of a difference.</summary>
    /// <param name="hash">The hash kept.</param>
    public bool Matches(ReadOnlySpan<byte> hash) => CryptographicOperations.FixedTimeEquals(SecretHash(), hash);

    /// <summary>The whole key. To be shown once, to whoever asked for it; never to be logged.</summary>
    public string Reveal() => $"{Prefix}{Id}_{Convert.ToHexStringLower(_secret)}";

    /// <summary>Leaves the secret out.</summary>
    /// <returns>The public part.</returns>
    public override string ToString() => Prefix + Id;

    private static bool IsHexadecimal(string text) => text.All(c => c is (>= '0' and <= '9') or (>= 'a' and <= 'f'));
}

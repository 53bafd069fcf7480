using System.Security.Cryptography;
using Derivid.Contracts;

namespace Derivid.Api.Access;

/// <summary>A key as its holder has it: as <see cref="KeyForm"/> says.</summary>
/// <remarks>Lives as long as it takes to show or to check it; only the public part and the hash are kept.</remarks>
public sealed class KeyText
{
    /// <summary>A key's form in words.</summary>
    public static readonly string Form = FormattableString.Invariant(
        $"{KeyForm.Prefix}x_y with {KeyForm.IdDigits} times x and {KeyForm.SecretDigits} times y");

    private readonly byte[] _secret;

    private KeyText(string id, byte[] secret) => (Id, _secret) = (id, secret);

    /// <summary>The public part. Shape: 16 hexadecimal digits, lower case.</summary>
    public string Id { get; }

    /// <summary>Makes a key nobody has.</summary>
    public static KeyText New() => new(
        Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(KeyForm.IdDigits / 2)), RandomNumberGenerator.GetBytes(KeyForm.SecretDigits / 2));

    /// <summary>Reads a key.</summary>
    /// <param name="text">As sent.</param>
    /// <returns>Missing: null, it has not the form of a key.</returns>
    public static KeyText? Parse(string text)
    {
        return text.StartsWith(KeyForm.Prefix, StringComparison.Ordinal)
            && text[KeyForm.Prefix.Length..].Split('_') is [var id, { Length: KeyForm.SecretDigits } secret] && IsId(id) && IsHexadecimal(secret)
            ? new KeyText(id, Convert.FromHexString(secret))
            : null;
    }

    /// <summary>Whether a text has the form of a public part.</summary>
    /// <param name="text">As sent.</param>
    public static bool IsId(string text) => text.Length == KeyForm.IdDigits && IsHexadecimal(text);

    /// <summary>SHA-256 of the secret part. The secret is 256 random bits, so a slow hash would add nothing.</summary>
    public byte[] SecretHash() => SHA256.HashData(_secret);

    /// <summary>Compares in a time that doesn't depend on the place of a difference.</summary>
    /// <param name="hash">The hash kept.</param>
    public bool Matches(ReadOnlySpan<byte> hash) => CryptographicOperations.FixedTimeEquals(SecretHash(), hash);

    /// <summary>The whole key. To be shown once, to whoever asked for it; never to be logged.</summary>
    public string Reveal() => $"{KeyForm.Prefix}{Id}_{Convert.ToHexStringLower(_secret)}";

    /// <summary>Leaves the secret out.</summary>
    /// <returns>The public part.</returns>
    public override string ToString() => KeyForm.Prefix + Id;

    private static bool IsHexadecimal(string text) => text.All(c => c is (>= '0' and <= '9') or (>= 'a' and <= 'f'));
}

using System.Buffers.Binary;
using System.Security.Cryptography;
using System.Text;
using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Core.Teaching.Grading;

/// <summary>What students and their reports are called while they are marked anonymously: a code a student, another id a report.</summary>
/// <remarks>
/// A student's code is derived one way from the course's secret and their identifier, so that nobody without the secret gets from one to
/// the other. An id of a report tells when the report was begun and stands in the audit log; another takes its place, which whoever has
/// the secret can undo: one block of a cipher, so that no two reports share one and none has to be kept.
/// Equality: by reference. Thread safety: immutable.
/// Source: key derivation in counter mode with HMAC-SHA-256, NIST SP 800-108 revision 1, one label a purpose; AES, FIPS 197.
/// </remarks>
public sealed class MarkingCodes
{
    /// <summary>Length of the secret. Units: bytes.</summary>
    public const int SecretLength = 32;

    // Ten of 19 characters: of 2,000 students two share a code once in three million courses.
    private const int Characters = 10;
    private const int IdBytes = 16;

    private readonly byte[] _secret;
    private readonly byte[] _reports;

    /// <summary>Takes the secret.</summary>
    /// <param name="secret">Shape: 32 bytes at random, one a course, used for nothing else.</param>
    /// <exception cref="ArgumentException">The secret has another length.</exception>
    public MarkingCodes(ReadOnlySpan<byte> secret)
    {
        if (secret.Length != SecretLength)
        {
            throw new ArgumentException(
                FormattableString.Invariant($"A secret has {SecretLength} bytes, this one {secret.Length}."), nameof(secret));
        }

        _secret = secret.ToArray();
        _reports = Derived("reports", "", SecretLength);
    }

    /// <summary>Never the secret, which would end up in a log.</summary>
    public override string ToString() => "(secret)";

    /// <summary>The code of a student, such as "M-HK47T-RXC9B".</summary>
    /// <param name="studentKey">The roster's identifier. Every character counts, case too.</param>
    /// <returns>Shape: "M-" and ten characters of <see cref="UnknownCode.Alphabet"/> in fives, unlike any code of an unknown.</returns>
    public string OfStudent(string studentKey)
    {
        var number = BinaryPrimitives.ReadUInt64BigEndian(Derived("student", studentKey, sizeof(ulong)));
        Span<char> code = stackalloc char[Characters];
        foreach (ref var character in code)
        {
            character = UnknownCode.Alphabet[(int)(number % (ulong)UnknownCode.Alphabet.Length)];
            number /= (ulong)UnknownCode.Alphabet.Length;
        }

        return $"M-{code[..5]}-{code[5..]}";
    }

    /// <summary>What a report is called in place of its id.</summary>
    /// <param name="id">Its id. Shape: 32 hexadecimal digits, lower case.</param>
    /// <returns>Shape: as an id.</returns>
    /// <exception cref="ArgumentException">It is no id.</exception>
    public string OfReport(string id)
    {
        using var cipher = Cipher();
        return Convert.ToHexStringLower(cipher.EncryptEcb(Bytes(id), PaddingMode.None));
    }

    /// <summary>The id of the report that is called so; of anything else one that no report has.</summary>
    /// <param name="called">What it is called. Shape: 32 hexadecimal digits, lower case.</param>
    /// <exception cref="ArgumentException">It has another shape.</exception>
    public string ReportCalled(string called)
    {
        using var cipher = Cipher();
        return Convert.ToHexStringLower(cipher.DecryptEcb(Bytes(called), PaddingMode.None));
    }

    private static byte[] Bytes(string id)
    {
        ArgumentNullException.ThrowIfNull(id);
        return id.Length == 2 * IdBytes ? Convert.FromHexString(id) : throw new ArgumentException("An id has 32 hexadecimal digits.", nameof(id));
    }

    private Aes Cipher()
    {
        var cipher = Aes.Create();
        cipher.Key = _reports;
        return cipher;
    }

    private byte[] Derived(string purpose, string subject, int length) => SP800108HmacCounterKdf.DeriveBytes(
        _secret, HashAlgorithmName.SHA256, Encoding.UTF8.GetBytes(purpose), Encoding.UTF8.GetBytes(subject), length);
}

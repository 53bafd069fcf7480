using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;

namespace Derivid.Api.Http;

/// <summary>A place in a list of stored rows: the sort key of the last row given. Opaque to those who hold it.</summary>
/// <param name="Question">Fingerprint of list and filters, so that a cursor is not used on another list.</param>
/// <param name="Beyond">Sort key of the last row given.</param>
public sealed record RowCursor(string Question, string Beyond)
{
    private const int QuestionLength = 12;

    /// <summary>Fingerprint of a list and its filters.</summary>
    /// <param name="path">Address of the list.</param>
    /// <param name="query">The filters.</param>
    public static string QuestionOf(string path, RowQuery query)
    {
        var filters = query with { Cursor = null, Limit = null };
        var bytes = JsonSerializer.SerializeToUtf8Bytes(filters, filters.GetType(), ServiceContext.Wire);
        return Convert.ToHexStringLower(SHA256.HashData([.. Encoding.UTF8.GetBytes(path), .. bytes]))[..QuestionLength];
    }

    /// <summary>Reads a cursor.</summary>
    /// <param name="text">As given.</param>
    /// <returns>Missing: null, not one of ours.</returns>
    public static RowCursor? Parse(string text)
    {
        if (!Base64Url.IsValid(text))
        {
            return null;
        }

        var plain = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(text));
        return plain.Length > QuestionLength ? new RowCursor(plain[..QuestionLength], plain[QuestionLength..]) : null;
    }

    /// <inheritdoc/>
    public override string ToString() => Base64Url.EncodeToString(Encoding.UTF8.GetBytes(Question + Beyond));
}

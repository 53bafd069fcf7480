using System.Buffers.Text;
using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Derivid.Api.Http;

namespace Derivid.Api.Table;

/// <summary>A place in a list. Opaque to those who hold it.</summary>
/// <remarks>A table version never changes, so a version and an offset name a row for good.</remarks>
/// <param name="TableVersion">Version of the table the list was begun with.</param>
/// <param name="Offset">Rows already given.</param>
/// <param name="Question">Fingerprint of list and filters, so that a cursor is not used on another list.</param>
public sealed record Cursor(int TableVersion, int Offset, string Question)
{
    /// <summary>Fingerprint of a list and its filters.</summary>
    /// <param name="path">Address of the list.</param>
    /// <param name="query">The filters.</param>
    public static string QuestionOf(string path, PageQuery query)
    {
        var filters = query with { Cursor = null, Limit = null, TableVersion = null };
        var bytes = JsonSerializer.SerializeToUtf8Bytes(filters, filters.GetType(), ServiceContext.Wire);
        return Convert.ToHexStringLower(SHA256.HashData([.. Encoding.UTF8.GetBytes(path), .. bytes]))[..12];
    }

    /// <summary>Reads a cursor.</summary>
    /// <param name="text">As given.</param>
    /// <returns>Missing: null, not one of ours.</returns>
    public static Cursor? Parse(string text)
    {
        if (!Base64Url.IsValid(text))
        {
            return null;
        }

        var parts = Encoding.UTF8.GetString(Base64Url.DecodeFromChars(text)).Split('.');
        return parts.Length == 3
            && int.TryParse(parts[0], NumberStyles.None, CultureInfo.InvariantCulture, out var version)
            && int.TryParse(parts[1], NumberStyles.None, CultureInfo.InvariantCulture, out var offset)
            ? new Cursor(version, offset, parts[2])
            : null;
    }

    /// <inheritdoc/>
    public override string ToString() => Base64Url.EncodeToString(Encoding.UTF8.GetBytes(
        string.Create(CultureInfo.InvariantCulture, $"{TableVersion}.{Offset}.{Question}")));
}

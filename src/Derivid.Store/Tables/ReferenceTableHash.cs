using System.Security.Cryptography;
using System.Text.Json;
using Derivid.Core.Compounds;

namespace Derivid.Store.Tables;

/// <summary>Names the content of a reference table: equal tables, whatever their version, have equal hashes.</summary>
public static class ReferenceTableHash
{
    /// <summary>Hashes every row in order, version number left out.</summary>
    /// <param name="table">The table, ordered as <see cref="ReferenceTableOrder"/> orders it.</param>
    /// <returns>SHA-256 over the rows' JSON, as 64 lower-case hexadecimal digits.</returns>
    public static string Of(ReferenceTable table) =>
        Convert.ToHexStringLower(SHA256.HashData(JsonSerializer.SerializeToUtf8Bytes(table with { Version = 0 })));
}

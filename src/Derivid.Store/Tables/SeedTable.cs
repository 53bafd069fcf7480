using System.Security.Cryptography;
using Derivid.Core.Compounds;
using Derivid.Store.Seeding;

namespace Derivid.Store.Tables;

/// <summary>The table a new database starts with.</summary>
/// <param name="Hash">Hash of its files' manifest, which names it.</param>
/// <param name="Load">Reads it; called only when the database holds no version yet.</param>
public sealed record SeedTable(string Hash, Func<ReferenceTable> Load)
{
    /// <summary>The seed tables that travel inside this assembly.</summary>
    /// <exception cref="SeedTableException">The manifest is missing.</exception>
    public static SeedTable BuiltIn() =>
        new(Convert.ToHexStringLower(SHA256.HashData(SeedTables.Bytes(SeedManifest.FileName))), SeedTables.Load);
}

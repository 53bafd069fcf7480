using System.Security.Cryptography;
using System.Text;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>The seed tables that travel inside this assembly.</summary>
public static class SeedTables
{
    /// <summary>Reads the reference table after checking every file against the manifest.</summary>
    /// <exception cref="SeedTableException">A file is missing, altered or not as its columns demand.</exception>
    public static ReferenceTable Load() => Load(Bytes);

    /// <summary>Reads a table that lies elsewhere, in the same form.</summary>
    /// <param name="bytes">Reads a file by its name, the manifest too.</param>
    /// <exception cref="SeedTableException">A file is altered or not as its columns demand.</exception>
    public static ReferenceTable Load(Func<string, byte[]> bytes)
    {
        ArgumentNullException.ThrowIfNull(bytes);
        var manifest = SeedManifest.Parse(Encoding.UTF8.GetString(bytes(SeedManifest.FileName)));
        var layout = TableLayout.Standard;
        return layout.Kinds.Aggregate(
            ReferenceTable.Empty(layout, manifest.Version), (table, kind) => table.With(kind, Read(kind, manifest, bytes)));
    }

    /// <summary>A file of them.</summary>
    /// <param name="fileName">Its name.</param>
    /// <exception cref="SeedTableException">It is not among them.</exception>
    internal static byte[] Bytes(string fileName)
    {
        using var stream = typeof(SeedTables).Assembly.GetManifestResourceStream($"seed-tables/{fileName}")
            ?? throw new SeedTableException($"{fileName} is not among the seed tables.");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }

    private static IReadOnlyList<object> Read(RecordKind kind, SeedManifest manifest, Func<string, byte[]> bytes)
    {
        var file = bytes(kind.FileName);
        manifest.Verify(kind.FileName, file);
        return CsvTable.Read(kind, new StringReader(Encoding.UTF8.GetString(file)));
    }
}

/// <summary>A table file that cannot be taken as it stands.</summary>
/// <remarks>The message names the file and, where they apply, line, column, value and what is allowed.</remarks>
public sealed class SeedTableException : Exception
{
    /// <summary>Makes an exception about a whole file.</summary>
    public SeedTableException(string message)
        : base(message)
    {
    }

    /// <summary>Makes an exception about a whole file with its cause.</summary>
    public SeedTableException(string message, Exception innerException)
        : base(message, innerException)
    {
    }

    /// <summary>Makes an exception without particulars.</summary>
    public SeedTableException()
    {
    }

    /// <summary>Makes an exception about one cell.</summary>
    /// <param name="file">The file's name.</param>
    /// <param name="line">Line in the file, the header being line 1.</param>
    /// <param name="column">The column's name.</param>
    /// <param name="value">The cell's text.</param>
    /// <param name="allowed">What would be allowed there.</param>
    public static SeedTableException AtCell(string file, int line, string column, string value, string allowed) =>
        new($"{file} line {line}, column {column}: \"{value}\" is not allowed; allowed: {allowed}.");
}

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

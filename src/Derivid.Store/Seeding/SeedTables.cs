using System.Text;
using Derivid.Core.Compounds;

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
        var manifest = ManifestIn(bytes);
        return new ReferenceTable
        {
            Version = manifest.Version,
            Sources = Read(CompoundTables.Sources, manifest, bytes),
            Parents = Read(CompoundTables.Parents, manifest, bytes),
            Constants = Read(CompoundTables.Constants, manifest, bytes),
            Kinds = Read(CompoundTables.Kinds, manifest, bytes),
            Derivatives = Read(CompoundTables.Derivatives, manifest, bytes),
            Questions = Read(ObservationTables.Questions, manifest, bytes),
            SpotTests = Read(ObservationTables.SpotTests, manifest, bytes),
            Responses = Read(ObservationTables.Responses, manifest, bytes),
            Colours = Read(ObservationTables.Colours, manifest, bytes),
            ColourExpectations = Read(ObservationTables.ColourExpectations, manifest, bytes),
            Standards = Read(ObservationTables.Standards, manifest, bytes),
        };
    }

    /// <summary>Reads the values that curators left out of the table.</summary>
    /// <exception cref="SeedTableException">The file is missing, altered or not as its columns demand.</exception>
    public static IReadOnlyList<LeftOut> LoadLeftOut() => Read(LeftOut.Table, LoadManifest(), Bytes);

    /// <summary>Reads the manifest.</summary>
    /// <exception cref="SeedTableException">It is missing or not a manifest.</exception>
    public static SeedManifest LoadManifest() => ManifestIn(Bytes);

    private static SeedManifest ManifestIn(Func<string, byte[]> bytes) =>
        SeedManifest.Parse(Encoding.UTF8.GetString(bytes(SeedManifest.FileName)));

    private static IReadOnlyList<T> Read<T>(CsvTable<T> table, SeedManifest manifest, Func<string, byte[]> bytes)
    {
        var file = bytes(table.FileName);
        manifest.Verify(table.FileName, file);
        return table.Read(new StringReader(Encoding.UTF8.GetString(file)));
    }

    private static byte[] Bytes(string fileName)
    {
        using var stream = typeof(SeedTables).Assembly.GetManifestResourceStream($"seed-tables/{fileName}")
            ?? throw new SeedTableException($"{fileName} is not among the seed tables.");
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }
}

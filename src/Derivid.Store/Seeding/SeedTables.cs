using System.Text;
using Derivid.Core.Compounds;

namespace Derivid.Store.Seeding;

/// <summary>The seed tables that travel inside this assembly.</summary>
public static class SeedTables
{
    /// <summary>Reads the reference table after checking every file against the manifest.</summary>
    /// <exception cref="SeedTableException">A file is missing, altered or not as its columns demand.</exception>
    public static ReferenceTable Load()
    {
        var manifest = LoadManifest();
        return new ReferenceTable
        {
            Version = manifest.Version,
            Sources = Read(CompoundTables.Sources, manifest),
            Parents = Read(CompoundTables.Parents, manifest),
            Constants = Read(CompoundTables.Constants, manifest),
            Kinds = Read(CompoundTables.Kinds, manifest),
            Derivatives = Read(CompoundTables.Derivatives, manifest),
            Questions = Read(ObservationTables.Questions, manifest),
            SpotTests = Read(ObservationTables.SpotTests, manifest),
            Responses = Read(ObservationTables.Responses, manifest),
            Colours = Read(ObservationTables.Colours, manifest),
            ColourExpectations = Read(ObservationTables.ColourExpectations, manifest),
            Standards = Read(ObservationTables.Standards, manifest),
        };
    }

    /// <summary>Reads the values that curators left out of the table.</summary>
    /// <exception cref="SeedTableException">The file is missing, altered or not as its columns demand.</exception>
    public static IReadOnlyList<LeftOut> LoadLeftOut() => Read(LeftOut.Table, LoadManifest());

    /// <summary>Reads the manifest.</summary>
    /// <exception cref="SeedTableException">It is missing or not a manifest.</exception>
    public static SeedManifest LoadManifest() =>
        SeedManifest.Parse(Encoding.UTF8.GetString(Bytes(SeedManifest.FileName)));

    private static IReadOnlyList<T> Read<T>(CsvTable<T> table, SeedManifest manifest)
    {
        var bytes = Bytes(table.FileName);
        manifest.Verify(table.FileName, bytes);
        return table.Read(new StringReader(Encoding.UTF8.GetString(bytes)));
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

using System.Text;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

namespace Derivid.SeedTables.Tests;

/// <summary>The folder seed-tables/ of the working copy, as opposed to the copy inside the assembly.</summary>
internal static class SeedFolder
{
    public static string Path { get; } = Find();

    /// <summary>Whether the run was asked to rewrite the generated files.</summary>
    public static bool Reseals => Environment.GetEnvironmentVariable("DERIVID_RESEAL") == "1";

    public static IReadOnlyList<string> TableFiles() =>
    [
        .. Directory.GetFiles(Path, "*.csv").Select(file => System.IO.Path.GetFileName(file)!).Order(StringComparer.Ordinal),
    ];

    public static byte[] Bytes(string file) => File.ReadAllBytes(System.IO.Path.Combine(Path, file));

    public static SeedManifest Manifest() => SeedManifest.Parse(Encoding.UTF8.GetString(Bytes(SeedManifest.FileName)));

    public static void Write(string file, string text) => File.WriteAllText(System.IO.Path.Combine(Path, file), text);

    public static IReadOnlyList<T> Read<T>(RecordKind<T> kind)
        where T : class
    {
        using var text = new StreamReader(System.IO.Path.Combine(Path, kind.FileName));
        return CsvTable.Read(kind, text);
    }

    private static string Find()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "Derivid.sln")))
            {
                return System.IO.Path.Combine(folder.FullName, "seed-tables");
            }
        }

        throw new InvalidOperationException($"No Derivid.sln above {AppContext.BaseDirectory}.");
    }
}

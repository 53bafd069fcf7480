using System.Runtime.CompilerServices;

namespace Derivid.Testing;

/// <summary>Finds files of the working copy that tests hold against the code: documents, manifests, sources.</summary>
public static class RepositoryFiles
{
    /// <summary>The path of a file or folder.</summary>
    /// <param name="parts">Its path below the repository's top folder.</param>
    public static string At(params string[] parts) => Path.Combine([Top(), .. parts]);

    private static string Top([CallerFilePath] string here = "") =>
        Path.GetFullPath(Path.Combine(Path.GetDirectoryName(here)!, "..", ".."));
}

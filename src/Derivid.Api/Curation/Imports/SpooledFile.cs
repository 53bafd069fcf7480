using System.Text;

namespace Derivid.Api.Curation.Imports;

/// <summary>A file sent, kept on disk while it is read; gone when it is disposed of or its process ends.</summary>
public sealed class SpooledFile : IDisposable
{
    private readonly FileStream _file;

    private SpooledFile(FileStream file, bool isJson) => (_file, IsJson) = (file, isJson);

    /// <summary>Whether it is JSON; else it is CSV.</summary>
    public bool IsJson { get; }

    /// <summary>How much of it is read. Bounds: 0 to 1.</summary>
    public double Done => _file.Length == 0 ? 1 : (double)_file.Position / _file.Length;

    /// <summary>Makes an empty one.</summary>
    /// <param name="isJson">Whether it is to be JSON.</param>
    public static SpooledFile New(bool isJson)
    {
        var path = Path.Combine(Path.GetTempPath(), "derivid-" + Path.GetRandomFileName());
        var file = new FileStream(
            path, FileMode.CreateNew, FileAccess.ReadWrite, FileShare.Delete, 64 * 1024, FileOptions.DeleteOnClose | FileOptions.Asynchronous);
        if (!OperatingSystem.IsWindows())
        {
            // Without a name it goes with the process, however that ends.
            File.Delete(path);
        }

        return new SpooledFile(file, isJson);
    }

    /// <summary>Adds bytes at the end.</summary>
    /// <param name="bytes">The bytes.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public ValueTask AddAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancellationToken) => _file.WriteAsync(bytes, cancellationToken);

    /// <summary>Goes back to the start.</summary>
    /// <returns>The bytes; they stay the file's.</returns>
    public Stream FromStart()
    {
        _file.Seek(0, SeekOrigin.Begin);
        return _file;
    }

    /// <summary>Goes back to the start.</summary>
    /// <returns>The text, a byte order mark passed over.</returns>
    public StreamReader TextFromStart() => new(FromStart(), Encoding.UTF8, leaveOpen: true);

    /// <inheritdoc/>
    public void Dispose() => _file.Dispose();
}

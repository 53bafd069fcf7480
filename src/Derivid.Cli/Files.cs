namespace Derivid.Cli;

/// <summary>Files named on the command line; "-" is standard input or output.</summary>
internal static class Files
{
    public const string Standard = "-";

    /// <exception cref="UsageException">It can't be read.</exception>
    public static async Task<ReadOnlyMemory<byte>> ReadAsync(
        string name, Surroundings around, CancellationToken cancellationToken)
    {
        await using var file = OpenRead(name, around);
        using var buffer = new MemoryStream();
        await file.CopyToAsync(buffer, cancellationToken);
        return buffer.ToArray();
    }

    /// <exception cref="UsageException">It can't be read.</exception>
    public static Stream OpenRead(string name, Surroundings around) =>
        name == Standard ? around.Input : Opened(name, "read", () => File.OpenRead(name));

    /// <summary>A new file, or one written over.</summary>
    /// <exception cref="UsageException">It can't be written.</exception>
    public static Stream Create(string name, Surroundings around) =>
        name == Standard ? around.RawOutput : Opened(name, "written", () => File.Create(name));

    /// <summary>A new file that only its owner can read, for secrets; one that is there already stays as it is.</summary>
    /// <exception cref="UsageException">It can't be made.</exception>
    public static StreamWriter CreatePrivate(string name, string secret)
    {
        var options = new FileStreamOptions { Mode = FileMode.CreateNew, Access = FileAccess.Write };
        if (!OperatingSystem.IsWindows())
        {
            options.UnixCreateMode = UnixFileMode.UserRead | UnixFileMode.UserWrite;
        }

        try
        {
            return new StreamWriter(name, options);
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"The {secret} can't be written to {name}: {fault.Message}");
        }
    }

    private static FileStream Opened(string name, string what, Func<FileStream> open)
    {
        try
        {
            return open();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"{name} can't be {what}: {fault.Message}");
        }
    }
}

namespace Derivid.Cli;

/// <summary>Files named on the command line; "-" is standard input or output.</summary>
internal static class Files
{
    private const string Standard = "-";

    /// <exception cref="UsageException">It can't be read.</exception>
    public static async Task<ReadOnlyMemory<byte>> ReadAsync(
        string name, Surroundings around, CancellationToken cancellationToken)
    {
        try
        {
            if (name != Standard)
            {
                return await File.ReadAllBytesAsync(name, cancellationToken);
            }

            using var buffer = new MemoryStream();
            await around.Input.CopyToAsync(buffer, cancellationToken);
            return buffer.ToArray();
        }
        catch (Exception fault) when (fault is IOException or UnauthorizedAccessException)
        {
            throw new UsageException($"{name} can't be read: {fault.Message}");
        }
    }
}

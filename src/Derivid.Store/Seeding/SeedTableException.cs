namespace Derivid.Store.Seeding;

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

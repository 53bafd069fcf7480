namespace Derivid.Store.Seeding;

/// <summary>One kind of table file, whatever its record.</summary>
public abstract class CsvFile
{
    private protected CsvFile(string fileName, IReadOnlyList<CsvColumn> columns)
    {
        FileName = fileName;
        Columns = columns;
        Header = [.. columns.Select(column => column.Name)];
    }

    /// <summary>Name of the file in the seed tables.</summary>
    public string FileName { get; }

    /// <summary>The columns in order.</summary>
    public IReadOnlyList<CsvColumn> Columns { get; }

    /// <summary>Names of the columns in order.</summary>
    public IReadOnlyList<string> Header { get; }

    /// <summary>Makes a record of a row.</summary>
    /// <param name="row">The row.</param>
    internal abstract object RecordOf(CsvRow row);

    /// <summary>Writes the header and one row a record, nothing in it to be run as a formula.</summary>
    /// <param name="text">Where to.</param>
    /// <param name="records">The records.</param>
    public abstract void WriteNeutralised(TextWriter text, IEnumerable<object> records);
}

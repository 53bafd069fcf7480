using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;

namespace Derivid.Store.Seeding;

/// <summary>One kind of table file: its columns, and how a row becomes a record and back.</summary>
/// <remarks>Format: RFC 4180 with line feeds, UTF-8, one header row. Thread safety: immutable.</remarks>
/// <typeparam name="T">The record of one row.</typeparam>
public sealed class CsvTable<T> : CsvFile
{
    private static readonly CsvConfiguration Format = new(CultureInfo.InvariantCulture)
    {
        NewLine = "\n",
        IgnoreBlankLines = false,
    };

    private readonly Func<CsvRow, T> _read;
    private readonly IReadOnlyList<Func<T, string>> _cells;

    internal CsvTable(
        string fileName, Func<CsvRow, T> read, params (string Name, string Field, Func<T, string> Write)[] columns)
        : base(fileName, [.. columns.Select(column => new CsvColumn(column.Name, column.Field))])
    {
        _read = read;
        _cells = [.. columns.Select(column => column.Write)];
    }

    /// <summary>Reads every row.</summary>
    /// <returns>Shape: one record a row, in the order of the file.</returns>
    /// <exception cref="SeedTableException">The header, the width of a row or a cell is wrong.</exception>
    public IReadOnlyList<T> Read(TextReader text)
    {
        using var parser = new CsvParser(text, Format, leaveOpen: true);
        var records = new List<T>();
        try
        {
            if (!parser.Read() || !parser.Record!.SequenceEqual(Header))
            {
                throw new SeedTableException(
                    $"{FileName} line 1: header \"{string.Join(',', parser.Record ?? [])}\" is not allowed; " +
                    $"allowed: \"{string.Join(',', Header)}\".");
            }

            while (parser.Read())
            {
                records.Add(_read(Row(parser)));
            }
        }
        catch (BadDataException exception)
        {
            throw new SeedTableException($"{FileName} line {parser.RawRow}: not RFC 4180 text.", exception);
        }

        return records;
    }

    /// <summary>Writes the header and one row a record.</summary>
    public void Write(TextWriter text, IEnumerable<T> records) => Write(text, records, cell => cell);

    /// <inheritdoc/>
    public override void WriteNeutralised(TextWriter text, IEnumerable<object> records) =>
        Write(text, records.Cast<T>(), SpreadsheetHabits.Neutralised);

    /// <inheritdoc/>
    internal override object RecordOf(CsvRow row) => _read(row)!;

    private void Write(TextWriter text, IEnumerable<T> records, Func<string, string> written)
    {
        using var writer = new CsvWriter(text, Format, leaveOpen: true);
        foreach (var name in Header)
        {
            writer.WriteField(name);
        }

        writer.NextRecord();
        foreach (var record in records)
        {
            foreach (var cell in _cells)
            {
                writer.WriteField(written(cell(record)));
            }

            writer.NextRecord();
        }
    }

    private CsvRow Row(CsvParser parser)
    {
        var cells = parser.Record!;
        return cells.Length == Header.Count
            ? new CsvRow(FileName, parser.RawRow, Header, cells)
            : throw new SeedTableException(
                $"{FileName} line {parser.RawRow}: {cells.Length} cells are not allowed; allowed: {Header.Count}.");
    }
}

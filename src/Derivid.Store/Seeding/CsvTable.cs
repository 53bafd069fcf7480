using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using Derivid.Core.Curation;

namespace Derivid.Store.Seeding;

/// <summary>Table files: RFC 4180 with line feeds, UTF-8, one header row with the columns of the kind in their order.</summary>
public static class CsvTable
{
    private static readonly CsvConfiguration Format = new(CultureInfo.InvariantCulture)
    {
        NewLine = "\n",
        IgnoreBlankLines = false,
    };

    /// <summary>Reads every row.</summary>
    /// <typeparam name="T">The record of one row.</typeparam>
    /// <param name="kind">The kind of record.</param>
    /// <param name="text">The file.</param>
    /// <returns>Shape: one record a row, in the order of the file.</returns>
    /// <exception cref="SeedTableException">The header, the width of a row or a cell is wrong.</exception>
    public static IReadOnlyList<T> Read<T>(RecordKind<T> kind, TextReader text)
        where T : class => [.. Read((RecordKind)kind, text).Cast<T>()];

    /// <inheritdoc cref="Read{T}(RecordKind{T}, TextReader)"/>
    public static IReadOnlyList<object> Read(RecordKind kind, TextReader text)
    {
        ArgumentNullException.ThrowIfNull(kind);
        var header = Header(kind);
        using var parser = new CsvParser(text, Format, leaveOpen: true);
        var records = new List<object>();
        try
        {
            if (!parser.Read() || !parser.Record!.SequenceEqual(header))
            {
                throw new SeedTableException(
                    $"{kind.FileName} line 1: header \"{string.Join(',', parser.Record ?? [])}\" is not allowed; " +
                    $"allowed: \"{string.Join(',', header)}\".");
            }

            while (parser.Read())
            {
                records.Add(RecordOf(kind, parser.Record!, parser.RawRow));
            }
        }
        catch (BadDataException exception)
        {
            throw new SeedTableException($"{kind.FileName} line {parser.RawRow}: not RFC 4180 text.", exception);
        }

        return records;
    }

    /// <summary>Writes the header and one row a record.</summary>
    /// <param name="kind">The kind of record.</param>
    /// <param name="text">Where to.</param>
    /// <param name="records">The records.</param>
    public static void Write(RecordKind kind, TextWriter text, IEnumerable<object> records) =>
        Write(kind, text, records, cell => cell);

    /// <summary>Writes the header and one row a record, nothing in it to be run as a formula.</summary>
    /// <inheritdoc cref="Write(RecordKind, TextWriter, IEnumerable{object})"/>
    public static void WriteNeutralised(RecordKind kind, TextWriter text, IEnumerable<object> records) =>
        Write(kind, text, records, SpreadsheetHabits.Neutralised);

    /// <summary>Names of a kind's columns, in order.</summary>
    /// <param name="kind">The kind of record.</param>
    public static IReadOnlyList<string> Header(RecordKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return [.. kind.Columns.Select(column => column.Name)];
    }

    private static void Write(RecordKind kind, TextWriter text, IEnumerable<object> records, Func<string, string> written)
    {
        using var writer = new CsvWriter(text, Format, leaveOpen: true);
        foreach (var name in Header(kind))
        {
            writer.WriteField(name);
        }

        writer.NextRecord();
        foreach (var record in records)
        {
            foreach (var column in kind.Columns)
            {
                writer.WriteField(written(column.Write(record)));
            }

            writer.NextRecord();
        }
    }

    private static object RecordOf(RecordKind kind, string[] cells, int line)
    {
        if (cells.Length != kind.Columns.Count)
        {
            throw new SeedTableException(
                $"{kind.FileName} line {line}: {cells.Length} cells are not allowed; allowed: {kind.Columns.Count}.");
        }

        return kind.Make([.. kind.Columns.Zip(cells, (column, cell) => column.Read(cell) is var (value, allowed) && allowed is null
            ? value
            : throw SeedTableException.AtCell(kind.FileName, line, column.Name, cell, allowed))]);
    }
}

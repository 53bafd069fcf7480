using System.IO.Compression;
using System.Text;
using System.Text.Json;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Api.Curation;

/// <summary>Writes a version of the table out. Equal content gives equal bytes, whatever the version's number.</summary>
public static class TableExport
{
    // Archives keep the date of each file; one date for all keeps equal content equal.
    private static readonly DateTimeOffset NoDate = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    /// <summary>One list as CSV: the columns of the seed tables, nothing in it to be run as a formula.</summary>
    /// <param name="table">The table.</param>
    /// <param name="kind">Which list.</param>
    /// <returns>UTF-8.</returns>
    public static byte[] Csv(ReferenceTable table, RecordKind kind)
    {
        ArgumentNullException.ThrowIfNull(table);
        ArgumentNullException.ThrowIfNull(kind);
        using var bytes = new MemoryStream();
        using (var text = new StreamWriter(bytes, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false), leaveOpen: true))
        {
            CsvTable.WriteNeutralised(kind, text, table.RowsOf(kind));
        }

        return bytes.ToArray();
    }

    /// <summary>One list as a JSON array.</summary>
    /// <param name="table">The table.</param>
    /// <param name="kind">Which list.</param>
    /// <returns>UTF-8.</returns>
    public static byte[] Json(ReferenceTable table, RecordKind kind)
    {
        ArgumentNullException.ThrowIfNull(table);
        return Written(writer => WriteRows(writer, kind, table.RowsOf(kind)));
    }

    /// <summary>Every list as one JSON object.</summary>
    /// <param name="table">The table.</param>
    /// <returns>UTF-8.</returns>
    public static byte[] Json(ReferenceTable table) => Written(writer =>
    {
        writer.WriteStartObject();
        foreach (var (kind, rows) in table.Lists())
        {
            writer.WritePropertyName(kind.TableName);
            WriteRows(writer, kind, rows);
        }

        writer.WriteEndObject();
    });

    /// <summary>Every list as CSV in one ZIP archive, under the seed tables' file names.</summary>
    /// <param name="table">The table.</param>
    public static byte[] Zip(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return Zipped(table.Lists().Select(list => (list.Kind.FileName, Csv(table, list.Kind))));
    }

    /// <summary>Files in one ZIP archive. Equal files give equal bytes.</summary>
    /// <param name="files">Name and content of each, in order.</param>
    internal static byte[] Zipped(IEnumerable<(string Name, byte[] Content)> files)
    {
        using var bytes = new MemoryStream();
        using (var archive = new ZipArchive(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach (var (name, content) in files)
            {
                var entry = archive.CreateEntry(name);
                entry.LastWriteTime = NoDate;
                using var file = entry.Open();
                file.Write(content);
            }
        }

        return bytes.ToArray();
    }

    private static void WriteRows(Utf8JsonWriter writer, RecordKind kind, IReadOnlyList<object> rows)
    {
        writer.WriteStartArray();
        foreach (var row in rows)
        {
            JsonSerializer.Serialize(writer, row, kind.RecordType, WireJson.WithDefaults);
        }

        writer.WriteEndArray();
    }

    private static byte[] Written(Action<Utf8JsonWriter> write)
    {
        using var bytes = new MemoryStream();
        using (var writer = new Utf8JsonWriter(bytes, new JsonWriterOptions { Encoder = WireJson.WithDefaults.Encoder, Indented = true, NewLine = "\n" }))
        {
            write(writer);
        }

        bytes.WriteByte((byte)'\n');
        return bytes.ToArray();
    }
}

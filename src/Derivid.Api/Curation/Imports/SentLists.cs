using System.Collections.Frozen;
using System.IO.Compression;
using System.Text.Json;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core;
using Derivid.Core.Curation;
using Derivid.Store.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Api.Curation.Imports;

/// <summary>What was sent to be imported, one list or several, kept on disk while it waits.</summary>
public sealed class SentLists : IDisposable
{
    // What a data package holds besides its lists.
    private const string Descriptor = "datapackage.json";

    // What is no list is named one by one so far; the rest is counted.
    private const int MostStrays = 50;

    // Of a name that came in JSON, where escapes hide a key from whoever looks at the bytes.
    private const int LongestName = 100;

    private readonly List<(RecordKind Kind, SpooledFile File)> _files = [];
    private readonly List<CellFault> _strays = [];
    private readonly RecordKind? _only;

    private SentLists(SpooledFile whole, RecordKind? only) => (Whole, _only) = (whole, only);

    /// <summary>What was sent, to the byte.</summary>
    internal SpooledFile Whole { get; }

    /// <summary>Takes it.</summary>
    /// <param name="request">The request.</param>
    /// <param name="kind">The one list its rows belong to. Missing: null, it holds several.</param>
    /// <returns>It, which the caller disposes of; or why it isn't taken.</returns>
    internal static async Task<Outcome<SentLists>> ReadAsync(HttpRequest request, RecordKind? kind)
    {
        string[] types = kind is null ? [MediaTypes.Csv, MediaTypes.Json, MediaTypes.Zip] : [MediaTypes.Csv, MediaTypes.Json];
        if (!MediaTypes.Of(request, "file", types).Succeeded(out var type, out var problem))
        {
            return problem;
        }

        if (kind is null && type == MediaTypes.Csv)
        {
            return FieldErrors.One("?table", $"Say which list the rows belong to. Allowed: {TableNames.Allowed}. Several lists come as a ZIP archive or as JSON.");
        }

        if (!(await FileOf(request, type)).Succeeded(out var file, out problem))
        {
            return problem;
        }

        var sent = new SentLists(file, kind);
        try
        {
            if (type == MediaTypes.Zip && await sent.UnpackAsync(request.HttpContext.RequestAborted) is { } refused)
            {
                sent.Dispose();
                return refused;
            }

            return sent;
        }
        catch
        {
            sent.Dispose();
            throw;
        }
    }

    /// <summary>Its rows.</summary>
    public ImportRows Rows()
    {
        if (_only is { } kind)
        {
            return new ImportRows(
                [Whole.IsJson ? JsonPart(kind, () => JsonRows.Read(Whole.FromStart(), kind)) : CsvPart(kind, Whole)], () => Whole.Done);
        }

        if (Whole.IsJson)
        {
            return OfObject();
        }

        return new ImportRows(
            [.. _files.Select(each => CsvPart(each.Kind, each.File))],
            () => _files.Count == 0 ? 1 : _files.Average(each => each.File.Done))
        {
            Strays = Told(_strays),
        };
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        Whole.Dispose();
        foreach (var (_, file) in _files)
        {
            file.Dispose();
        }
    }

    private static Task<Outcome<SpooledFile>> FileOf(HttpRequest request, string type) => type == MediaTypes.Zip
        ? FileBody.ReadArchiveAsync(request, RequestLimits.ImportBytes)
        : FileBody.ReadAsync(request, type == MediaTypes.Json, RequestLimits.ImportBytes, takesOtherEncodings: type == MediaTypes.Csv);

    // Missing: null, all of it is kept.
    private async Task<Problem?> UnpackAsync(CancellationToken cancellation)
    {
        ZipArchive archive;
        try
        {
            archive = await ZipArchive.CreateAsync(Whole.FromStart(), ZipArchiveMode.Read, leaveOpen: true, entryNameEncoding: null, cancellation);
        }
        catch (InvalidDataException)
        {
            return FieldErrors.One("", "This is no ZIP archive, or a damaged one.");
        }

        await using (archive)
        {
            if (archive.Entries.Any(entry => KeyForm.IsIn(entry.FullName)))
            {
                return FieldErrors.One("", "The name of a file in the archive: " + StrayKey.Told);
            }

            var names = TableLayout.Standard.Kinds.ToFrozenDictionary(kind => kind.FileName, StringComparer.OrdinalIgnoreCase);
            foreach (var entry in archive.Entries.Where(entry => entry.Name.Length > 0 && entry.Name != Descriptor))
            {
                if (!names.TryGetValue(entry.Name, out var kind) || _files.Exists(each => each.Kind == kind))
                {
                    _strays.Add(new CellFault(0, "", entry.FullName, "each of these once: " + string.Join(", ", names.Keys.Order(StringComparer.Ordinal))));
                    continue;
                }

                // All of it together, whatever the archive says.
                var room = RequestLimits.ImportBytes - (int)_files.Sum(each => each.File.Length);
                if (!(await FileBody.ReadEntryAsync(entry, room, cancellation, takesOtherEncodings: true)).Succeeded(out var file, out var problem))
                {
                    return problem;
                }

                _files.Add((kind, file));
            }
        }

        return _files.Count == 0 && _strays.Count == 0 ? FieldErrors.One("", "The archive is empty.") : null;
    }

    private ImportRows OfObject()
    {
        var parts = new List<ImportPart>();
        var strays = new List<CellFault>();
        var names = new HashSet<string>(StringComparer.Ordinal);
        try
        {
            foreach (var (name, isArray, start, length) in JsonLists.Read(Whole.FromStart()))
            {
                if (!names.Add(name))
                {
                    strays.Add(new CellFault(0, "", Text.Shortened(name, LongestName), "each list once; this one stands twice"));
                }
                else if (isArray && TableLayout.Standard.Find(name) is { } kind)
                {
                    parts.Add(JsonPart(kind, () => JsonRows.Read(new FilePart(Whole.FromStart(), start, length), kind)));
                }
                else
                {
                    strays.Add(new CellFault(0, "", Text.Shortened(name, LongestName), "the name of a list, with an array of its records: " + TableNames.Allowed));
                }
            }
        }
        catch (JsonException fault)
        {
            return Stray("", FormattableString.Invariant($"well-formed JSON; it breaks off or goes wrong near line {(fault.LineNumber ?? 0) + 1}"));
        }
        catch (InvalidDataException fault)
        {
            return Stray("", fault.Message);
        }

        return new ImportRows(parts, () => 1) { Strays = Told(strays) };
    }

    private static List<CellFault> Told(List<CellFault> strays) => strays.Count <= MostStrays
        ? strays
        : [.. strays.Take(MostStrays), new CellFault(0, "", Figure.Count(strays.Count - MostStrays, "more like these", "more like these"), strays[MostStrays].Allowed)];

    private static ImportRows Stray(string value, string allowed) => new([], () => 1) { Strays = [new CellFault(0, "", value, allowed)] };

    private static ImportPart JsonPart(RecordKind kind, Func<IEnumerable<CsvRecord>> read) =>
        new(kind, read, JsonNamingPolicy.CamelCase.ConvertName, HasHeading: false);

    private static ImportPart CsvPart(RecordKind kind, SpooledFile file) => new(
        kind,
        () => CsvImport.Read(kind, file.TextFromStart()),
        name => kind.Columns.FirstOrDefault(column => column.Field == name)?.Name ?? "",
        HasHeading: true);
}

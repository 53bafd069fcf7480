using System.Globalization;
using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;

namespace Derivid.Api.Curation.Imports;

/// <summary>Reads records out of a JSON array, one at a time.</summary>
internal static class JsonRows
{
    /// <summary>Reads every item; a break in the JSON, or an item that is too long, is a last entry with a fault.</summary>
    /// <param name="json">The array, as bytes.</param>
    /// <param name="kind">The kind of record.</param>
    public static IEnumerable<CsvRecord> Read(Stream json, RecordKind kind)
    {
        using var items = JsonItems.Read(json).GetEnumerator();
        for (var number = 1; ; number++)
        {
            CsvRecord? broken = null;
            try
            {
                if (!items.MoveNext())
                {
                    yield break;
                }
            }
            catch (JsonException fault)
            {
                broken = Broken(number, string.Create(
                    CultureInfo.InvariantCulture,
                    $"an array of records in well-formed JSON; it breaks off or goes wrong near line {(fault.LineNumber ?? 0) + 1}"));
            }
            catch (InvalidDataException fault)
            {
                broken = Broken(number, fault.Message);
            }

            yield return broken ?? RecordOf(items.Current, kind, number);
            if (broken is not null)
            {
                yield break;
            }
        }
    }

    private static CsvRecord RecordOf(JsonElement item, RecordKind kind, int number)
    {
        var errors = new FieldErrors();
        Shape.Check(item, kind.RecordType, "", errors);
        var places = errors.ToProblem()?.Errors ?? new Dictionary<string, IReadOnlyList<string>>();
        if (item.ValueKind != JsonValueKind.Object)
        {
            return new CsvRecord(number, null, [.. FaultsAt(places, number)]);
        }

        var names = item.EnumerateObject().Select(Shape.NameOf).ToList();
        if (names.Contains(null))
        {
            return new CsvRecord(number, null, [.. FaultsAt(places, number)]);
        }

        if (names.CountBy(name => name ?? "").FirstOrDefault(name => name.Value > 1) is { Key: { } twice })
        {
            return new CsvRecord(number, null, [new CellFault(number, Text.Shortened(twice), "", "each member once; this one is given twice")]);
        }

        var draft = new RecordDraft(kind);
        var workedOut = kind.Columns.Where(column => column.IsWorkedOut && !Holds(item, column))
            .Select(column => "/" + NameOf(column)).ToHashSet(StringComparer.Ordinal);
        var wrong = places.Where(place => !workedOut.Contains(place.Key)).ToDictionary();
        foreach (var column in kind.Columns)
        {
            if (wrong.Keys.Any(place => place == "/" + NameOf(column) || place.StartsWith($"/{NameOf(column)}/", StringComparison.Ordinal)))
            {
                draft.Unread(column);
            }
            else if (Holds(item, column))
            {
                draft.Take(column, item.GetProperty(NameOf(column)).Deserialize(kind.RecordType.GetProperty(column.Field)!.PropertyType, WireJson.WithDefaults));
            }
        }

        return new CsvRecord(number, draft, [.. FaultsAt(wrong, number)]);
    }

    private static string NameOf(RecordColumn column) => JsonNamingPolicy.CamelCase.ConvertName(column.Field);

    private static bool Holds(JsonElement item, RecordColumn column) =>
        item.TryGetProperty(NameOf(column), out var value) && value.ValueKind != JsonValueKind.Null;

    private static IEnumerable<CellFault> FaultsAt(IReadOnlyDictionary<string, IReadOnlyList<string>> places, int number) =>
        places.SelectMany(place => place.Value.Select(message => new CellFault(number, Text.Shortened(place.Key.TrimStart('/')), "", message)));

    private static CsvRecord Broken(int number, string allowed) => new(number, null, [new CellFault(number, "", "", allowed)]);
}

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
    private static readonly JsonSerializerOptions Strict = new()
    {
        AllowDuplicateProperties = false,
        MaxDepth = JsonBody.DeepestNesting,
    };

    /// <summary>Reads every item; a break in the JSON is a last entry with a fault.</summary>
    /// <param name="json">The array, as bytes.</param>
    /// <param name="kind">The kind of record.</param>
    public static IEnumerable<CsvRecord> Read(Stream json, RecordKind kind)
    {
        using var items = JsonSerializer.DeserializeAsyncEnumerable<JsonElement>(json, Strict).ToBlockingEnumerable().GetEnumerator();
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
                broken = Broken(number, fault);
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
        return errors.ToProblem() is { } problem
            ? new CsvRecord(number, null, [.. problem.Errors!.SelectMany(
                place => place.Value.Select(message => new CellFault(number, place.Key.TrimStart('/'), "", message)))])
            : new CsvRecord(number, item.Deserialize(kind.RecordType, WireJson.WithDefaults), []);
    }

    private static CsvRecord Broken(int number, JsonException fault) => new(number, null,
    [
        new CellFault(number, "", "", string.Create(
            CultureInfo.InvariantCulture,
            $"an array of records in well-formed JSON; it breaks off or goes wrong near line {(fault.LineNumber ?? 0) + 1}")),
    ]);
}

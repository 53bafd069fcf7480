using System.Text.Json;
using Derivid.Core.Compounds;

namespace Derivid.Store.Tests;

/// <summary>Compares whole tables: records compare their lists by reference, text compares all of it.</summary>
internal static class Json
{
    private static readonly JsonSerializerOptions Format = new() { WriteIndented = true };

    public static string Of(ReferenceTable table) => $"{table.Version} " + JsonSerializer.Serialize(
        table.Lists().Where(list => list.Rows.Count > 0).ToDictionary(list => list.Kind.TableName, list => list.Rows), Format);
}

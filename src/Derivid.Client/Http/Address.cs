using System.Globalization;
using System.Text.Json;

namespace Derivid.Client.Http;

/// <summary>Writes addresses below /api/v1.</summary>
internal static class Address
{
    /// <summary>One segment of a path.</summary>
    public static string Segment(string text) => Uri.EscapeDataString(text);

    /// <summary>A path with a query; values that are missing are left out.</summary>
    public static string Of(string path, params IEnumerable<(string Name, object? Value)> query)
    {
        var parts = query
            .Where(part => part.Value is not null)
            .Select(part => $"{part.Name}={Uri.EscapeDataString(Text(part.Value!))}");
        var text = string.Join('&', parts);
        return text.Length > 0 ? $"{path}?{text}" : path;
    }

    private static string Text(object value) => value switch
    {
        bool flag => flag ? "true" : "false",
        Enum word => JsonNamingPolicy.CamelCase.ConvertName(word.ToString()),
        _ => Convert.ToString(value, CultureInfo.InvariantCulture)!,
    };
}

using System.Globalization;
using System.Text.Json;
using Derivid.Client.Curation;
using Spectre.Console;

namespace Derivid.Cli.Curation;

/// <summary>Shows differences, a record a line, each changed field below.</summary>
internal static class ChangeView
{
    private const string Nothing = "(none)";

    public static void Write(IAnsiConsole console, IReadOnlyList<ChangeItem> changes)
    {
        foreach (var change in changes)
        {
            var (sign, colour) = change.Type switch
            {
                ChangeType.Added => ('+', Color.Green),
                ChangeType.Removed => ('-', Color.Red),
                ChangeType.Changed => ('~', Color.Yellow),
            };
            console.Write(new Text($"{sign} {change.Table} {change.Key}\n", new Style(foreground: colour)));
            foreach (var field in change.Fields)
            {
                console.WriteLine($"    {field}: {Value(change.Before, field)} → {Value(change.After, field)}");
            }
        }

        console.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{Count(changes, ChangeType.Added)} added, {Count(changes, ChangeType.Changed)} changed, {Count(changes, ChangeType.Removed)} removed"));
    }

    private static int Count(IReadOnlyList<ChangeItem> changes, ChangeType type) => changes.Count(c => c.Type == type);

    private static string Value(JsonElement? record, string field) =>
        record is { } json && json.TryGetProperty(field, out var value) && value.ValueKind != JsonValueKind.Null
            ? value.ToString()
            : Nothing;
}

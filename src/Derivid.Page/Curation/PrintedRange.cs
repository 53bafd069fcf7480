using System.Text.Json;
using System.Text.Json.Nodes;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Curation.Readings;

namespace Derivid.Page.Curation;

/// <summary>A melting range typed once, as the source prints it, from which its two ends are read.</summary>
/// <remarks>So that correcting a value takes one field; ends typed differently stand, and the table's rules compare them.</remarks>
internal static class PrintedRange
{
    /// <summary>What its field says of it.</summary>
    public const string Hint = "Such as 125-127 dec.; both ends are read from it where you leave them as they are.";

    private static readonly string Printed = Member(nameof(Derivative.AsPrinted));
    private static readonly string Low = Member(nameof(Derivative.LowCelsius));
    private static readonly string High = Member(nameof(Derivative.HighCelsius));
    private static readonly string Decomposes = Member(nameof(Derivative.Decomposes));

    /// <summary>Whether a column is what the source prints.</summary>
    /// <param name="column">The column.</param>
    public static bool Is(RecordColumn column) => Member(column.Field) == Printed;

    /// <summary>A record with its ends read from what is printed.</summary>
    /// <param name="typed">The record as typed.</param>
    /// <param name="before">The record that is corrected. Missing: null, it is new.</param>
    /// <returns>As typed where an end was typed too, what is printed did not change or it is no range.</returns>
    public static JsonElement WithEnds(JsonElement typed, JsonElement? before)
    {
        if (Same(typed, before, Printed) || !Same(typed, before, Low) || !Same(typed, before, High)
            || PrintedValue.RangeOf(Of(typed, Printed)) is not { } read)
        {
            return typed;
        }

        var record = JsonNode.Parse(typed.GetRawText())!.AsObject();
        record[Low] = read.OnsetCelsius;
        record[High] = read.ClearPointCelsius;
        if (before is null || Same(typed, before, Decomposes))
        {
            record[Decomposes] = read.Decomposes;
        }

        return JsonSerializer.SerializeToElement(record);
    }

    private static bool Same(JsonElement one, JsonElement? other, string member) => Of(one, member) == Of(other, member);

    private static string Of(JsonElement? record, string member) => RecordWords.Cell(record, member);

    private static string Member(string field) => JsonNamingPolicy.CamelCase.ConvertName(field);
}

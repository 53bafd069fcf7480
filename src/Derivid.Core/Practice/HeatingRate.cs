using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>A figure that one source prints for a step of heating.</summary>
/// <remarks>From <c>seed-tables/heating-rates.csv</c>, whose README describes the columns. Thread safety: immutable.</remarks>
/// <param name="Step">The step.</param>
/// <param name="Decomposes">Whether it is for what decomposes.</param>
/// <param name="BelowCelsius">How far below the melting range it is. Units: °C, a difference. Missing: null, not of this step.</param>
/// <param name="Rate">How fast it is heated. Units: °C/min. Missing: null, not of this step.</param>
/// <param name="SourceKey">The source that prints it.</param>
/// <param name="Locator">Page or section in it. Missing: null.</param>
/// <param name="Verification">How far it was followed back.</param>
public sealed record HeatingRate(
    HeatingStepKind Step, bool Decomposes, double? BelowCelsius, AmountSpan? Rate, string SourceKey, string? Locator, Verification Verification)
{
    private const string Header = "step,below_celsius,lowest_rate,highest_rate,source_key,locator,verification";
    private const string Hot = "-hot";

    /// <summary>All of them.</summary>
    public static IReadOnlyList<HeatingRate> All { get; } = [.. EmbeddedTable.Rows("heating-rates.csv", Header).Select(Read)];

    /// <summary>The printed figures of a step. Shape: at least one.</summary>
    /// <param name="step">The step.</param>
    /// <param name="decomposes">Whether those for what decomposes.</param>
    public static IReadOnlyList<HeatingRate> Of(HeatingStepKind step, bool decomposes = false) =>
        [.. All.Where(row => row.Step == step && row.Decomposes == decomposes)];

    private static HeatingRate Read(IReadOnlyList<string> cells) => new(
        EmbeddedTable.Member<HeatingStepKind>(cells[0].Replace(Hot, "", StringComparison.Ordinal))!.Value,
        cells[0].EndsWith(Hot, StringComparison.Ordinal),
        EmbeddedTable.Number(cells[1]),
        EmbeddedTable.Number(cells[2]) is { } low && EmbeddedTable.Number(cells[3]) is { } high ? new AmountSpan(low, high) : null,
        cells[4],
        EmbeddedTable.OrNull(cells[5]),
        EmbeddedTable.Member<Verification>(cells[6])!.Value);
}

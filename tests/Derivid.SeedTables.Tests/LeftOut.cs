using Derivid.Core.Curation;

namespace Derivid.SeedTables.Tests;

/// <summary>A value that was found but not taken into the table, with the reason, for the curators to settle.</summary>
/// <param name="Parent">Key of the parent, or a slug of its name where the table has no such parent.</param>
/// <param name="Subject">The derivative kind or the property.</param>
/// <param name="AsPrinted">The value as printed or recalled. Units: °C.</param>
/// <param name="SourceKey">The source that gives it.</param>
/// <param name="Reason">Why it was left out.</param>
internal sealed record LeftOut(string Parent, string Subject, string AsPrinted, string SourceKey, string Reason)
{
    /// <summary>How left-out.csv holds them; they are no part of the table.</summary>
    public static RecordKind<LeftOut> File { get; } = new(
        "left-out",
        columns:
        [
            nameof(Parent), nameof(Subject), nameof(AsPrinted), nameof(SourceKey), nameof(Reason),
        ],
        key: [nameof(Parent), nameof(Subject), nameof(SourceKey), nameof(AsPrinted)]);
}

namespace Derivid.Store.Seeding;

/// <summary>A value that was found but not taken into the table, with the reason, for the curators to settle.</summary>
/// <param name="Parent">Key of the parent, or a slug of its name where the table has no such parent.</param>
/// <param name="Subject">The derivative kind or the property.</param>
/// <param name="AsPrinted">The value as printed or recalled. Units: °C.</param>
/// <param name="SourceKey">The source that gives it.</param>
/// <param name="Reason">Why it was left out.</param>
public sealed record LeftOut(string Parent, string Subject, string AsPrinted, string SourceKey, string Reason)
{
    /// <summary>left-out.csv.</summary>
    public static CsvTable<LeftOut> Table { get; } = new(
        "left-out.csv",
        row => new LeftOut(
            row.Text("parent"),
            row.Text("subject"),
            row.Text("as_printed"),
            row.Text("source_key"),
            row.Text("reason")),
        ("parent", nameof(LeftOut.Parent), value => value.Parent),
        ("subject", nameof(LeftOut.Subject), value => value.Subject),
        ("as_printed", nameof(LeftOut.AsPrinted), value => value.AsPrinted),
        ("source_key", nameof(LeftOut.SourceKey), value => value.SourceKey),
        ("reason", nameof(LeftOut.Reason), value => value.Reason));
}

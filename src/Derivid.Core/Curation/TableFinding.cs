namespace Derivid.Core.Curation;

/// <summary>Something wrong or noteworthy about one record of a table.</summary>
/// <param name="Severity">Whether it stands in the way of a release.</param>
/// <param name="Kind">The kind of record.</param>
/// <param name="Key">The record's key.</param>
/// <param name="Field">Name of the field.</param>
/// <param name="Value">The value found, as text. Missing: empty.</param>
/// <param name="Allowed">What is allowed there, or what to look at, in a sentence.</param>
public sealed record TableFinding(
    FindingSeverity Severity, RecordKind Kind, string Key, string Field, string Value, string Allowed);

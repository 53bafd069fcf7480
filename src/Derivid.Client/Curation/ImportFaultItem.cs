namespace Derivid.Client.Curation;

/// <summary>One thing wrong with a file.</summary>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Column">The column or property. Empty: the row as a whole.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What is allowed there.</param>
public sealed record ImportFaultItem(int Line, string Column, string Value, string Allowed);

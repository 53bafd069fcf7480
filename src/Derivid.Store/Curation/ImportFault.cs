namespace Derivid.Store.Curation;

/// <summary>One thing wrong with a file sent.</summary>
/// <param name="JobId">The import.</param>
/// <param name="Number">Counts the faults of the import, from 1.</param>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Column">The column or property. Missing: empty, the row as a whole.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What is allowed there.</param>
public sealed record ImportFault(string JobId, int Number, int Line, string Column, string Value, string Allowed);

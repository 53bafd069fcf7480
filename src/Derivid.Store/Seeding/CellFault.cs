namespace Derivid.Store.Seeding;

/// <summary>A cell that can't be taken as it stands.</summary>
/// <param name="Line">Line in the file, the header being line 1; in JSON the number of the item, from 1.</param>
/// <param name="Column">Name of the column, or of the JSON property. Missing: empty, the whole row.</param>
/// <param name="Value">What stands there.</param>
/// <param name="Allowed">What would be allowed, in a sentence.</param>
public sealed record CellFault(int Line, string Column, string Value, string Allowed);

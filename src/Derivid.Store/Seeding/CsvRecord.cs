namespace Derivid.Store.Seeding;

/// <summary>What became of one row of a file.</summary>
/// <param name="Line">Line in the file, the header being line 1.</param>
/// <param name="Record">The record. Missing: null, the row has faults.</param>
/// <param name="Faults">Every cell that can't be taken. Shape: in the order of the fields; empty for a record.</param>
public sealed record CsvRecord(int Line, object? Record, IReadOnlyList<CellFault> Faults);

using Derivid.Store.Seeding;

namespace Derivid.Store.Curation;

/// <summary>The rows of a file that can be read more than once.</summary>
/// <param name="Read">Reads from the start, a row at a time.</param>
/// <param name="Done">How much of the reading under way is done. Bounds: 0 to 1.</param>
/// <param name="ColumnOf">What the file calls a field of the record.</param>
public sealed record ImportRows(Func<IEnumerable<CsvRecord>> Read, Func<double> Done, Func<string, string> ColumnOf);

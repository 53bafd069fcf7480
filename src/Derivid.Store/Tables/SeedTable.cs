using Derivid.Core.Compounds;

namespace Derivid.Store.Tables;

/// <summary>The table a new database starts with.</summary>
/// <param name="Hash">Hash of its files' manifest, which names it.</param>
/// <param name="Load">Reads it; called only when the database holds no version yet.</param>
public sealed record SeedTable(string Hash, Func<ReferenceTable> Load);

using Derivid.Client.Curation;

namespace Derivid.Cli.Curation;

/// <summary>What came of an import.</summary>
/// <param name="Import">The import, ended.</param>
/// <param name="Faults">Everything wrong with the file, in its order.</param>
internal sealed record ImportResult(ImportItem Import, IReadOnlyList<ImportFaultItem> Faults);

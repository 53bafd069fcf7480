using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Api.Curation;

/// <summary>What a proposal comes to.</summary>
/// <param name="Before">The version it starts from.</param>
/// <param name="After">The table it makes; its version's number is that of the one it starts from.</param>
/// <param name="Changes">What differs. Shape: by kind, then key.</param>
public sealed record ProposedTable(ReferenceTable Before, ReferenceTable After, IReadOnlyList<RecordChange> Changes);

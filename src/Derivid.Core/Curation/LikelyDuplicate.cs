using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>A parent of the table that may be the one a curator is about to add.</summary>
/// <param name="Parent">The parent.</param>
/// <param name="Reason">Why, in a sentence.</param>
public sealed record LikelyDuplicate(Parent Parent, string Reason);

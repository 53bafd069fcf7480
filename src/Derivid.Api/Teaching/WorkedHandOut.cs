using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A hand-out worked out, to be kept.</summary>
/// <param name="HandOut">The hand-out.</param>
/// <param name="Assignments">Its unknowns.</param>
public sealed record WorkedHandOut(StoredHandOut HandOut, IReadOnlyList<Assignment> Assignments);

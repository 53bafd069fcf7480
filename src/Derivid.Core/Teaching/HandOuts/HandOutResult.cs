namespace Derivid.Core.Teaching.HandOuts;

/// <summary>Either a hand-out or the reason why there is none.</summary>
/// <param name="HandOut">The hand-out. Missing: null, refused.</param>
/// <param name="Refusal">The reason. Missing: null, handed out.</param>
public sealed record HandOutResult(HandOut? HandOut, HandOutRefusal? Refusal);

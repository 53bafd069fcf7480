namespace Derivid.Client.Teaching;

/// <summary>Something an instructor may want to look at. It says what is the case and what else explains it, no more.</summary>
/// <param name="Kind">What was noticed.</param>
/// <param name="StudentKeys">Shape: in ordinal order.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record Signal(string Kind, IReadOnlyList<string> StudentKeys, string Sentence);

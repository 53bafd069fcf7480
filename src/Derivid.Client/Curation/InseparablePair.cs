namespace Derivid.Client.Curation;

/// <summary>Two parents that nothing in the table tells apart.</summary>
/// <param name="First">Key of the one.</param>
/// <param name="Second">Key of the other.</param>
/// <param name="SharedKinds">Kinds listed for both, whose ranges are too close. Shape: keys; empty when none is listed for both.</param>
public sealed record InseparablePair(string First, string Second, IReadOnlyList<string> SharedKinds);

namespace Derivid.Core.Observations;

/// <summary>Whether an element was found in the unknown, as by sodium fusion.</summary>
/// <param name="Element">The element looked for.</param>
/// <param name="IsPresent">Whether it was found.</param>
public sealed record ElementReading(DetectableElement Element, bool IsPresent);

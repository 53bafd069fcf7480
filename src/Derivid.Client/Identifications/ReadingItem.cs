namespace Derivid.Client.Identifications;

/// <summary>One temperature range as read and as used.</summary>
/// <param name="Kind">Melting range of a derivative, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: not about a derivative.</param>
/// <param name="AsRead">The range as read, in °C.</param>
/// <param name="AsUsed">After thermometer, stem and pressure corrections.</param>
public sealed record ReadingItem(string Kind, string? Subject, RangeItem AsRead, RangeItem AsUsed);

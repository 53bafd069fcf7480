using Derivid.Core.Melting;

namespace Derivid.Core.Ranking;

/// <summary>One temperature range as read and as used.</summary>
/// <param name="Kind">Derivative melting range, or boiling or melting point of the unknown.</param>
/// <param name="Subject">The derivative kind. Missing: null.</param>
/// <param name="AsRead">The range as read.</param>
/// <param name="AsUsed">After thermometer, stem and pressure corrections.</param>
public sealed record CorrectedReading(EvidenceKind Kind, string? Subject, MeltingRange AsRead, MeltingRange AsUsed);

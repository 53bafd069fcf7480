using Derivid.Core.Melting;

namespace Derivid.Core.Observations;

/// <summary>The melting range of the unknown, or of a derivative of it, mixed with about as much of an authentic sample.</summary>
/// <param name="KindKey">The derivative kind. Missing: null, the unknown itself was mixed with the authentic compound.</param>
/// <param name="PartnerKey">The parent whose authentic sample was taken.</param>
/// <param name="Mixture">The range of the mixture as read.</param>
/// <param name="Authentic">The range of the authentic sample alone, melted beside it, as read. Missing: null, not melted.</param>
public sealed record MixedMeltingReading(
    string? KindKey, string PartnerKey, MeltingRange Mixture, MeltingRange? Authentic = null);

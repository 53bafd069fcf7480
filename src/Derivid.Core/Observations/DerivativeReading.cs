using Derivid.Core.Melting;

namespace Derivid.Core.Observations;

/// <summary>What was seen of one derivative.</summary>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="Range">The melting range as read, before any correction. Missing: null, not melted.</param>
/// <param name="Preparation">What was done to the crystals.</param>
/// <param name="ColourKey">Its colour, a key of the colour vocabulary. Missing: null, not noted.</param>
/// <param name="Precipitate">
/// What came; without crystals there is no range and no colour to read. Missing: null, crystals where a range was read,
/// else not said.
/// </param>
public sealed record DerivativeReading(
    string KindKey,
    MeltingRange? Range,
    Preparation Preparation = Preparation.Unstated,
    string? ColourKey = null,
    Precipitate? Precipitate = null)
{
    /// <summary>What came, as far as the reading tells. Missing: null, nobody said.</summary>
    public Precipitate? Came => Range is not null ? Observations.Precipitate.Crystals : Precipitate;
}

namespace Derivid.Client.Identifications;

/// <summary>What came when the unknown was mixed with a derivative's reagent.</summary>
public enum Precipitate
{
    /// <summary>Crystals, melted or not.</summary>
    Crystals,

    /// <summary>An oil that would not solidify.</summary>
    Oil,

    /// <summary>Nothing came out of solution in the time usual for the reagent.</summary>
    None,
}

namespace Derivid.Core.Ranking;

/// <summary>What sort of observation a piece of evidence is.</summary>
public enum EvidenceKind
{
    /// <summary>The melting range of a derivative.</summary>
    DerivativeMeltingRange,

    /// <summary>A derivative's reagent with which no crystals came.</summary>
    Precipitate,

    /// <summary>The colour of a derivative.</summary>
    DerivativeColour,

    /// <summary>The spot tests that ask one question, taken together.</summary>
    SpotTests,

    /// <summary>Whether the unknown is a liquid or a solid.</summary>
    State,

    /// <summary>The boiling range of the unknown.</summary>
    BoilingPoint,

    /// <summary>The melting range of the unknown itself.</summary>
    MeltingPoint,

    /// <summary>The molar mass of the unknown.</summary>
    MolarMass,

    /// <summary>The elements found or not found in the unknown.</summary>
    Elements,
}

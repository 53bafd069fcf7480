namespace Derivid.Validation.Simulation;

/// <summary>The kinds of evidence a row of the report uses.</summary>
[Flags]
public enum EvidenceSet
{
    /// <summary>None.</summary>
    None = 0,

    /// <summary>Melting range of the 2,4-dinitrophenylhydrazone.</summary>
    Hydrazone = 1,

    /// <summary>Colour of the 2,4-dinitrophenylhydrazone.</summary>
    Colour = 2,

    /// <summary>Three spot tests.</summary>
    SpotTests = 4,

    /// <summary>Melting range of the semicarbazone.</summary>
    Semicarbazone = 8,

    /// <summary>Boiling point, of a solid too; one that is not listed is made up.</summary>
    BoilingPoint = 16,

    /// <summary>What a bench would take: the boiling point of a liquid, the melting point of a solid.</summary>
    OwnConstant = 32,
}

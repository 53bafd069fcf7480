namespace Derivid.Core.Compounds;

/// <summary>A physical constant the table keeps of a parent.</summary>
public enum ParentProperty
{
    /// <summary>Boiling point. Units: °C at the stated pressure.</summary>
    BoilingPoint,

    /// <summary>Melting point. Units: °C.</summary>
    MeltingPoint,

    /// <summary>Enthalpy of fusion. Units: J/mol.</summary>
    EnthalpyOfFusion,
}

namespace Derivid.Core.Compounds;

/// <summary>A rough class used only to weigh one next step against another; it replaces no risk assessment.</summary>
public enum Hazard
{
    /// <summary>Ordinary care.</summary>
    Low,

    /// <summary>Corrosive, toxic or flammable reagents in small amounts.</summary>
    Moderate,

    /// <summary>Explosive, carcinogenic or strongly toxic reagents.</summary>
    High,
}

namespace Derivid.Core.Observations;

/// <summary>What the unknown is at room temperature.</summary>
public enum PhysicalState
{
    /// <summary>It pours.</summary>
    Liquid,

    /// <summary>Crystals, powder or wax.</summary>
    Solid,
}

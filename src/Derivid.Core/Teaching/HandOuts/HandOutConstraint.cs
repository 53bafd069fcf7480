namespace Derivid.Core.Teaching.HandOuts;

/// <summary>What stood in the way of a hand-out.</summary>
public enum HandOutConstraint
{
    /// <summary>No compound of the shelf is identifiable and easy enough.</summary>
    Identifiable,

    /// <summary>A student gets more unknowns than there are compounds to hand out.</summary>
    EnoughCompounds,

    /// <summary>Neighbours cannot all be kept apart with the compounds there are.</summary>
    Neighbours,
}

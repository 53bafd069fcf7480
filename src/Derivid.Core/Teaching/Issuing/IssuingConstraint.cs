namespace Derivid.Core.Teaching.Issuing;

/// <summary>What stood in the way of an issue.</summary>
public enum IssuingConstraint
{
    /// <summary>No compound of the shelf is identifiable and easy enough.</summary>
    Identifiable,

    /// <summary>A student gets more unknowns than there are compounds to issue.</summary>
    EnoughCompounds,

    /// <summary>Neighbours cannot all be kept apart with the compounds there are.</summary>
    Neighbours,
}

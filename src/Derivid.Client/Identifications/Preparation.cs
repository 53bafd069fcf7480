namespace Derivid.Client.Identifications;

/// <summary>What was done to the crystals before they were melted.</summary>
public enum Preparation
{
    /// <summary>Nobody said.</summary>
    Unstated,

    /// <summary>Filtered and dried, not recrystallised.</summary>
    Crude,

    /// <summary>Recrystallised at least once and dried.</summary>
    Recrystallised,
}

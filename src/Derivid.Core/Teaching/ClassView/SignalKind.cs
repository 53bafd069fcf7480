namespace Derivid.Core.Teaching.ClassView;

/// <summary>What was noticed.</summary>
public enum SignalKind
{
    /// <summary>A range reported is a listed range of the compound claimed, to 0.1 °C.</summary>
    CopiedRange,

    /// <summary>Several students report the same temperatures throughout.</summary>
    IdenticalReadings,
}

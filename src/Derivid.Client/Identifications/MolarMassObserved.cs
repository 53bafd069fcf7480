namespace Derivid.Client.Identifications;

/// <summary>A molar mass found for the unknown.</summary>
public sealed record MolarMassObserved
{
    /// <summary>The value. Units: g/mol.</summary>
    public required double GramsPerMole { get; init; }

    /// <summary>One standard deviation. Units: g/mol.</summary>
    public required double UncertaintyGramsPerMole { get; init; }
}

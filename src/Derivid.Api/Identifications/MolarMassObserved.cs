using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Identifications;

/// <summary>A molar mass found for the unknown.</summary>
public sealed record MolarMassObserved
{
    /// <summary>The value. Units: g/mol.</summary>
    [Range(20.0, 2000.0)]
    public required double GramsPerMole { get; init; }

    /// <summary>One standard deviation. Units: g/mol.</summary>
    [Range(0.01, 200.0)]
    public required double UncertaintyGramsPerMole { get; init; }
}

using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Identifications;

/// <summary>The part of a liquid thermometer's thread that stands outside the bath.</summary>
public sealed record StemExposed
{
    /// <summary>Length of the exposed thread. Units: °C of scale.</summary>
    [Range(0.0, 400.0)]
    public required double ExposedCelsius { get; init; }

    /// <summary>Mean temperature of the exposed thread. Units: °C.</summary>
    [Range(-20.0, 200.0)]
    public required double StemCelsius { get; init; }
}

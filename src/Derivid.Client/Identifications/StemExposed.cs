namespace Derivid.Client.Identifications;

/// <summary>The part of a liquid thermometer's thread that stands outside the bath.</summary>
public sealed record StemExposed
{
    /// <summary>Length of the exposed thread. Units: °C of scale.</summary>
    public required double ExposedCelsius { get; init; }

    /// <summary>Mean temperature of the exposed thread. Units: °C.</summary>
    public required double StemCelsius { get; init; }
}

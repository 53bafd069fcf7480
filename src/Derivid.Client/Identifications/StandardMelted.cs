namespace Derivid.Client.Identifications;

/// <summary>One melting-point standard melted with the thermometer.</summary>
public sealed record StandardMelted
{
    /// <summary>The standard: key or name. See /api/v1/melting-point-standards.</summary>
    public required string Standard { get; init; }

    /// <summary>What the thermometer showed at the clear point. Units: °C.</summary>
    public required double ReadCelsius { get; init; }
}

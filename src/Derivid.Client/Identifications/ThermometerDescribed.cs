namespace Derivid.Client.Identifications;

/// <summary>What is known of the thermometer.</summary>
public sealed record ThermometerDescribed
{
    /// <summary>Melting-point standards melted with it.</summary>
    public IReadOnlyList<StandardMelted>? Standards { get; init; }

    /// <summary>The thread outside the bath. Missing: an electronic or totally immersed thermometer.</summary>
    public StemExposed? Stem { get; init; }
}

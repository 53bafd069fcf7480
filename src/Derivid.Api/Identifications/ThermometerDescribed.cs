using System.ComponentModel.DataAnnotations;

namespace Derivid.Api.Identifications;

/// <summary>What is known of the thermometer.</summary>
public sealed record ThermometerDescribed
{
    /// <summary>Melting-point standards melted with it.</summary>
    [MaxLength(20)]
    public IReadOnlyList<StandardMelted>? Standards { get; init; }

    /// <summary>The thread outside the bath. Missing: an electronic or totally immersed thermometer.</summary>
    public StemExposed? Stem { get; init; }
}

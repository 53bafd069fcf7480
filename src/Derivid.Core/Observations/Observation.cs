using Derivid.Core.Melting;

namespace Derivid.Core.Observations;

/// <summary>What one person saw and measured on one unknown. Every part may be missing.</summary>
public sealed record Observation
{
    /// <summary>Tolerance window when none is asked for. Units: °C. Source: the handbooks' customary ±5 °C.</summary>
    public const double DefaultWindowCelsius = 5;

    /// <summary>Derivatives made. Shape: any order; at most one reading a kind counts, see the engine.</summary>
    public IReadOnlyList<DerivativeReading> Derivatives { get; init; } = [];

    /// <summary>Spot tests run. Shape: any order.</summary>
    public IReadOnlyList<SpotTestReading> SpotTests { get; init; } = [];

    /// <summary>
    /// What the unknown is at room temperature; not weighed beside a melting range of it, which says more. Missing: null.
    /// </summary>
    public PhysicalState? State { get; init; }

    /// <summary>Boiling range of the unknown. Missing: null.</summary>
    public BoilingPointReading? BoilingPoint { get; init; }

    /// <summary>Melting range of the unknown itself. Missing: null.</summary>
    public MeltingRange? MeltingPoint { get; init; }

    /// <summary>Molar mass of the unknown. Missing: null.</summary>
    public MolarMassReading? MolarMass { get; init; }

    /// <summary>Elements looked for. Shape: any order, each element at most once.</summary>
    public IReadOnlyList<ElementReading> Elements { get; init; } = [];

    /// <summary>What is known of the thermometer; applied to every temperature read. Missing: none, read as it stands.</summary>
    public ThermometerCorrection Thermometer { get; init; } = ThermometerCorrection.None;

    /// <summary>Half width of the classical tolerance window. Units: °C. Bounds: 0.1 to 50.</summary>
    public double WindowCelsius { get; init; } = DefaultWindowCelsius;

    /// <summary>What was known beforehand.</summary>
    public PriorChoice Prior { get; init; } = PriorChoice.Uniform;
}

namespace Derivid.Client.Identifications;

/// <summary>What was seen and measured on one unknown. Every part may be left out.</summary>
public sealed record IdentificationRequest
{
    /// <summary>Derivatives made. Several of one kind are allowed: the most carefully prepared one counts.</summary>
    public IReadOnlyList<DerivativeObserved>? Derivatives { get; init; }

    /// <summary>Spot tests run.</summary>
    public IReadOnlyList<SpotTestObserved>? SpotTests { get; init; }

    /// <summary>
    /// What the unknown is at room temperature. Weighed against the listed melting points unless its own melting range is
    /// given, which says more.
    /// </summary>
    public PhysicalState? State { get; init; }

    /// <summary>Boiling range of the unknown.</summary>
    public BoilingPointObserved? BoilingPoint { get; init; }

    /// <summary>Melting range of the unknown itself.</summary>
    public RangeObserved? MeltingPoint { get; init; }

    /// <summary>Molar mass of the unknown.</summary>
    public MolarMassObserved? MolarMass { get; init; }

    /// <summary>Elements looked for in the unknown.</summary>
    public ElementsObserved? Elements { get; init; }

    /// <summary>What is known of the thermometer; every temperature read is corrected by it.</summary>
    public ThermometerDescribed? Thermometer { get; init; }

    /// <summary>Half width of the classical tolerance window. Units: °C. Missing: 5.</summary>
    public double? WindowCelsius { get; init; }

    /// <summary>What was known beforehand. Missing: every parent of the table alike.</summary>
    public PriorDescribed? Prior { get; init; }

    /// <summary>Version of the reference table to use. Missing: the current one.</summary>
    public int? TableVersion { get; init; }

    /// <summary>How many candidates to list. Missing: 10.</summary>
    public int? MaximumCandidates { get; init; }
}

using Derivid.Core.Melting;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Observations;

/// <summary>What one person saw and measured on one unknown. Every part may be missing.</summary>
public sealed record Observation
{
    /// <summary>Tolerance window when none is asked for. Units: °C. Source: the handbooks' customary ±5 °C.</summary>
    public const double DefaultWindowCelsius = 5;

    /// <summary>The narrowest window that can be asked for. Units: °C.</summary>
    public const double NarrowestWindowCelsius = 0.1;

    /// <summary>The widest. Units: °C.</summary>
    public const double WidestWindowCelsius = 50;

    /// <summary>Minutes of work a class of hazard counts for when none are asked for. Units: min. Chosen.</summary>
    public const double DefaultHazardMinutes = 10;

    /// <summary>The most minutes that can be asked for. Units: min.</summary>
    public const double MostHazardMinutes = 240;

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

    /// <summary>Mixtures melted. Shape: any order, each kind and partner at most once, since a second melting tells nothing new.</summary>
    public IReadOnlyList<MixedMeltingReading> MixedMeltings { get; init; } = [];

    /// <summary>Molar mass of the unknown. Missing: null.</summary>
    public MolarMassReading? MolarMass { get; init; }

    /// <summary>Elements looked for. Shape: any order, each element at most once.</summary>
    public IReadOnlyList<ElementReading> Elements { get; init; } = [];

    /// <summary>What is known of the thermometer; applied to every temperature read. Missing: none, read as it stands.</summary>
    public ThermometerCorrection Thermometer { get; init; } = ThermometerCorrection.None;

    /// <summary>Half width of the classical tolerance window. Units: °C. Bounds: 0.1 to 50.</summary>
    public double WindowCelsius { get; init; } = DefaultWindowCelsius;

    /// <summary>
    /// What a class of hazard counts for when next steps are put in order: as so many minutes of work. Units: min.
    /// Bounds: 0 to 240.
    /// </summary>
    public double HazardMinutes { get; init; } = DefaultHazardMinutes;

    /// <summary>What was known beforehand.</summary>
    public PriorChoice Prior { get; init; } = PriorChoice.ByCommonness;
}

/// <summary>What was known of the unknown before any evidence.</summary>
public sealed record PriorChoice
{
    /// <summary>The smallest weight a parent can be given.</summary>
    public const double LeastWeight = 1e-6;

    /// <summary>The largest.</summary>
    public const double LargestWeight = 1e6;

    /// <summary>The most that "none of these" can be given beforehand.</summary>
    public const double MostNoneOfThese = 0.99;

    /// <summary>Every parent as likely as it is common, and the model's own share for "none of these".</summary>
    public static PriorChoice ByCommonness { get; } = new();

    /// <summary>A shelf list: each of its parents alike, the others left out.</summary>
    /// <param name="parentKeys">The parents on the shelf. Shape: no repeats.</param>
    public static PriorChoice OfShelf(IEnumerable<string> parentKeys) =>
        new() { Weights = parentKeys.ToDictionary(key => key, _ => 1.0, StringComparer.Ordinal) };

    /// <summary>Whether every parent is alike, however common it is; of no account beside <see cref="Weights"/>.</summary>
    public bool IsUniform { get; init; }

    /// <summary>
    /// Relative weight by parent key; parents left out get none. Shape: weights above zero. Missing: null, by commonness
    /// or all alike.
    /// </summary>
    public IReadOnlyDictionary<string, double>? Weights { get; init; }

    /// <summary>
    /// Prior probability that the compound is not among those considered. Bounds: 0 to 0.99. Missing: null, the model's.
    /// </summary>
    public double? NoneOfThese { get; init; }
}

/// <summary>What the unknown is at room temperature.</summary>
public enum PhysicalState
{
    /// <summary>It pours.</summary>
    Liquid,

    /// <summary>Crystals, powder or wax.</summary>
    Solid,
}

/// <summary>The outcome of one spot test on the unknown.</summary>
/// <param name="TestKey">The test.</param>
/// <param name="Outcome">How it turned out.</param>
public sealed record SpotTestReading(string TestKey, SpotTestOutcome Outcome);

using System.ComponentModel.DataAnnotations;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;

namespace Derivid.Contracts;

/// <summary>What was seen and measured on one unknown. Every part may be left out.</summary>
public sealed record IdentificationRequest
{
    /// <summary>Derivatives made. Several of one kind are allowed: the most carefully prepared one counts.</summary>
    [MaxLength(16)]
    public IReadOnlyList<DerivativeObserved>? Derivatives { get; init; }

    /// <summary>Spot tests run.</summary>
    [MaxLength(40)]
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

    /// <summary>Mixtures with authentic samples that were melted; each kind and partner once.</summary>
    [MaxLength(8)]
    public IReadOnlyList<MixedMeltingObserved>? MixedMeltings { get; init; }

    /// <summary>Molar mass of the unknown.</summary>
    public MolarMassObserved? MolarMass { get; init; }

    /// <summary>Elements looked for in the unknown.</summary>
    public ElementsObserved? Elements { get; init; }

    /// <summary>What is known of the thermometer; every temperature read is corrected by it.</summary>
    public ThermometerDescribed? Thermometer { get; init; }

    /// <summary>Half width of the classical tolerance window. Units: °C. Missing: 5.</summary>
    [Range(Observation.NarrowestWindowCelsius, Observation.WidestWindowCelsius)]
    public double? WindowCelsius { get; init; }

    /// <summary>
    /// What a class of hazard counts for when next steps are put in order, as minutes of work. Units: min. Missing: 10;
    /// 0 orders by information a minute alone.
    /// </summary>
    [Range(0.0, Observation.MostHazardMinutes)]
    public double? HazardMinutes { get; init; }

    /// <summary>What was known beforehand. Missing: every parent of the table as likely as it is common.</summary>
    public PriorDescribed? Prior { get; init; }

    /// <summary>Version of the reference table to use. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>How many candidates to list. Missing: 10.</summary>
    [Range(1, 500)]
    public int? MaximumCandidates { get; init; }
}

/// <summary>What was seen of one derivative.</summary>
public sealed record DerivativeObserved
{
    /// <summary>The kind: key, name or a listed synonym, such as "2,4-DNPH". See /api/v1/derivative-kinds.</summary>
    public required string Kind { get; init; }

    /// <summary>
    /// What came when the reagent was used: crystals, an oil, or none when nothing came of it in the usual time. With an oil
    /// or none there is no range, colour or preparation to give. Missing: crystals where a range is given, else not said.
    /// </summary>
    public Precipitate? Precipitate { get; init; }

    /// <summary>
    /// How soon the crystals came: seconds (at once, or within a minute), minutes (within an hour) or hours. Weighed for kinds
    /// of which it is known which compounds give them sooner. Missing: not noted.
    /// </summary>
    public PrecipitateTime? Time { get; init; }

    /// <summary>Its melting range as read. Missing: not melted.</summary>
    public RangeObserved? MeltingRange { get; init; }

    /// <summary>What was done to the crystals before they were melted. Missing: unstated.</summary>
    public Preparation? Preparation { get; init; }

    /// <summary>Its colour: key, name or a listed synonym. See /api/v1/colours. Missing: not noted.</summary>
    public string? Colour { get; init; }
}

/// <summary>The outcome of one spot test on the unknown.</summary>
public sealed record SpotTestObserved
{
    /// <summary>The test: key, name or a listed synonym. See /api/v1/spot-tests.</summary>
    public required string Test { get; init; }

    /// <summary>How it turned out; notDone is the same as leaving the test out, doubtful carries no weight.</summary>
    public required SpotTestOutcome Outcome { get; init; }
}

/// <summary>The boiling range of the unknown.</summary>
public sealed record BoilingPointObserved
{
    /// <summary>The range as read.</summary>
    public required RangeObserved Range { get; init; }

    /// <summary>
    /// Pressure at which it boiled. Units: kPa. The range is corrected to 101.325 kPa, the less surely the lower the pressure.
    /// Missing: 101.325, one atmosphere.
    /// </summary>
    [Range(BoilingPointReading.LowestKilopascals, BoilingPointReading.HighestKilopascals)]
    public double? PressureKilopascals { get; init; }

    /// <summary>
    /// Height above sea level, in place of the pressure, which is then that of the standard atmosphere (ISO 2533); a barometer is better, since
    /// the weather moves it by some kPa. Units: m. Missing: the pressure tells, or sea level.
    /// </summary>
    [Range(StandardAtmosphere.LowestMetres, StandardAtmosphere.HighestMetres)]
    public double? AltitudeMetres { get; init; }
}

/// <summary>The melting range of a mixture with about as much of an authentic sample.</summary>
public sealed record MixedMeltingObserved
{
    /// <summary>
    /// The derivative that was mixed with the partner's: key, name or a listed synonym. See /api/v1/derivative-kinds. Missing:
    /// the unknown itself was mixed with the compound itself.
    /// </summary>
    public string? Kind { get; init; }

    /// <summary>The compound whose authentic sample it was: key, name, synonym or CAS number. See /api/v1/parents.</summary>
    public required string Partner { get; init; }

    /// <summary>The range of the mixture as read.</summary>
    public required RangeObserved Range { get; init; }

    /// <summary>
    /// The range of the authentic sample alone, melted beside it; the thermometer's error is shared then and drops out. Missing:
    /// not melted, so the crystals alone are taken in its place, else the listed value.
    /// </summary>
    public RangeObserved? AuthenticRange { get; init; }
}

/// <summary>A molar mass found for the unknown.</summary>
public sealed record MolarMassObserved
{
    /// <summary>The value. Units: g/mol.</summary>
    [Range(MolarMassReading.LowestGramsPerMole, MolarMassReading.HighestGramsPerMole)]
    public required double GramsPerMole { get; init; }

    /// <summary>One standard deviation. Units: g/mol.</summary>
    [Range(MolarMassReading.LeastUncertaintyGramsPerMole, MolarMassReading.LargestUncertaintyGramsPerMole)]
    public required double UncertaintyGramsPerMole { get; init; }
}

/// <summary>Elements looked for in the unknown, as by sodium fusion.</summary>
public sealed record ElementsObserved
{
    /// <summary>Elements found.</summary>
    [MaxLength(6)]
    public IReadOnlyList<DetectableElement>? Present { get; init; }

    /// <summary>Elements looked for and not found.</summary>
    [MaxLength(6)]
    public IReadOnlyList<DetectableElement>? Absent { get; init; }
}

/// <summary>What is known of the thermometer.</summary>
public sealed record ThermometerDescribed
{
    /// <summary>
    /// A registered thermometer, by its id; see /api/v1/thermometers. Where standards are left out, those it was last checked
    /// with are taken, and how long ago that was; an empty list takes none. Missing: none is named.
    /// </summary>
    [StringLength(32)]
    public string? Id { get; init; }

    /// <summary>Melting-point standards melted with it.</summary>
    [MaxLength(20)]
    public IReadOnlyList<StandardMelted>? Standards { get; init; }

    /// <summary>How long ago they were melted; an old calibration is trusted less. Units: days. Missing: lately.</summary>
    [Range(0, ThermometerCorrection.LongestDays)]
    public int? DaysSinceChecked { get; init; }

    /// <summary>The thread outside the bath. Missing: an electronic or totally immersed thermometer.</summary>
    public StemExposed? Stem { get; init; }
}

/// <summary>One melting-point standard melted with the thermometer.</summary>
public sealed record StandardMelted
{
    /// <summary>The standard: key or name. See /api/v1/melting-point-standards.</summary>
    public required string Standard { get; init; }

    /// <summary>What the thermometer showed at the clear point. Units: °C.</summary>
    [Range(MeltingRange.LowestCelsius, MeltingRange.HighestCelsius)]
    public required double ReadCelsius { get; init; }
}

/// <summary>The part of a liquid thermometer's thread that stands outside the bath.</summary>
public sealed record StemExposed
{
    /// <summary>Length of the exposed thread. Units: °C of scale.</summary>
    [Range(0.0, StemCorrection.LongestExposedCelsius)]
    public required double ExposedCelsius { get; init; }

    /// <summary>Mean temperature of the exposed thread. Units: °C.</summary>
    [Range(StemCorrection.LowestStemCelsius, StemCorrection.HighestStemCelsius)]
    public required double StemCelsius { get; init; }

    /// <summary>What the thread is of. Missing: that of the registered thermometer named, else mercury.</summary>
    public ThreadLiquid? Liquid { get; init; }
}

/// <summary>What was known of the unknown before any evidence: a shelf list, weights or that all are alike, one of them.</summary>
public sealed record PriorDescribed
{
    /// <summary>The only parents it may be, all alike: keys, names, synonyms or CAS numbers. See /api/v1/parents.</summary>
    [MinLength(1)]
    [MaxLength(1000)]
    public IReadOnlyList<string>? ShelfList { get; init; }

    /// <summary>Relative weight by parent; parents left out get none. Bounds: 0.000001 to 1000000.</summary>
    [MinLength(1)]
    [MaxLength(1000)]
    public IReadOnlyDictionary<string, double>? Weights { get; init; }

    /// <summary>Whether every parent of the table is alike, however common it is. Missing: false, by commonness.</summary>
    public bool? IsUniform { get; init; }

    /// <summary>Prior probability that it is none of them. Missing: the model's.</summary>
    [Range(0.0, PriorChoice.MostNoneOfThese)]
    public double? NoneOfThese { get; init; }
}

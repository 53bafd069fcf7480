using System.ComponentModel.DataAnnotations;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Practice;

namespace Derivid.Contracts;

// What is answered is a reading guide as Core writes it.

/// <summary>What is to be melted, and what was read already. Every part may be left out; with nothing, it is an unknown.</summary>
public sealed record ReadingGuideRequest
{
    /// <summary>Version of the reference table. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>The kind of derivative: key, name or synonym. Missing: the compound or the standard itself.</summary>
    public string? Kind { get; init; }

    /// <summary>The parent: key, name, listed synonym or CAS number. Missing: an unknown.</summary>
    [StringLength(400)]
    public string? Parent { get; init; }

    /// <summary>A melting-point standard: key or name; in the place of kind and parent. Missing: it is none.</summary>
    public string? Standard { get; init; }

    /// <summary>Where it melts when pure, in the place of what the table lists; "dec." says that it decomposes. Missing: as listed.</summary>
    public RangeObserved? Expected { get; init; }

    /// <summary>The range as read, for what it tells of the purity. Missing: nothing was read yet.</summary>
    public RangeObserved? Read { get; init; }

    /// <summary>What was done to the crystals before they were melted; only with <c>read</c>. Missing: unstated.</summary>
    public Preparation? Preparation { get; init; }

    /// <summary>What is known of the thermometer; <c>read</c> is corrected by it. Missing: nothing.</summary>
    public ThermometerDescribed? Thermometer { get; init; }

    /// <summary>Where bath or thermometer end. Units: °C. Missing: not said.</summary>
    [Range(HeatingPlan.LeastReachCelsius, MeltingRange.HighestCelsius)]
    public double? ReachCelsius { get; init; }

    /// <summary>Whether it is known to sublime; the table does not say. Missing: false.</summary>
    public bool? Sublimes { get; init; }

    /// <summary>
    /// Its enthalpy of fusion, in the place of a printed one; only with <c>read</c>. Units: kJ/mol. Missing: as printed for the
    /// substance, or a bound from the entropies of others.
    /// </summary>
    [Range(0.5, 500)]
    public double? EnthalpyOfFusionKilojoulesPerMole { get; init; }

    /// <summary>
    /// Everything observed of the unknown, as identifications take it: whether another recrystallisation is worth its time is then
    /// told. Its table version is the guide's. Missing: not asked.
    /// </summary>
    public IdentificationRequest? Observation { get; init; }
}

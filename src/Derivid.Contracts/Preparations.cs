using System.ComponentModel.DataAnnotations;
using Derivid.Core.Practice;

namespace Derivid.Contracts;

// What is answered is a preparation sheet as Core writes it.

/// <summary>A derivative to be made: of a parent, or of an unknown by a span of molar mass.</summary>
public sealed record PreparationRequest
{
    /// <summary>Version of the reference table. Missing: the current one.</summary>
    [Range(1, int.MaxValue)]
    public int? TableVersion { get; init; }

    /// <summary>The parent: key, name, listed synonym or CAS number. Missing: an unknown, of which <c>molarMass</c> is given.</summary>
    [StringLength(400)]
    public string? Parent { get; init; }

    /// <summary>Molar mass of an unknown. Missing: the parent is given.</summary>
    public MolarMassSpan? MolarMass { get; init; }

    /// <summary>The kind of derivative: key, name or synonym.</summary>
    public required string Kind { get; init; }

    /// <summary>
    /// The carbonyl compound for one derivative. Units: mg. 20 to 5000 mg, and 500 mg at most where reagent or product can explode; anything
    /// else is refused with the reason.
    /// </summary>
    [Range(0.001, 1_000_000)]
    public required double Milligrams { get; init; }

    /// <summary>Density of the carbonyl compound, to measure it by volume. Units: g/mL. Missing: its volume is not told.</summary>
    [Range(0.3, 5)]
    public double? GramsPerMillilitre { get; init; }

    /// <summary>
    /// Carbonyl groups of a molecule that are to react. Missing: the fewest listed for the parent and kind, else 1.
    /// </summary>
    [Range(1, 6)]
    public int? CarbonylsCondensed { get; init; }

    /// <summary>Reagent beyond what reacts, as a share of that; below 0 it limits. Missing: 0.1, unless the reagent is weighed.</summary>
    [Range(PreparationScale.LeastExcess, PreparationScale.MostExcess)]
    public double? ReagentExcess { get; init; }

    /// <summary>What was weighed of the reagent, in place of an excess. Units: mg. Missing: it is worked out.</summary>
    [Range(0.001, 1_000_000)]
    public double? ReagentMilligrams { get; init; }

    /// <summary>
    /// The form it was weighed in, a key of <c>reagent.forms</c> of an answer. Missing: the reagent itself, free of acid and water.
    /// </summary>
    public string? ReagentForm { get; init; }

    /// <summary>The product that was weighed, dry, for its yield. Units: mg. Missing: none was.</summary>
    [Range(0.0, 1_000_000)]
    public double? ProductMilligrams { get; init; }

    /// <summary>How many tests and derivatives reagents are made up for. Missing: 1.</summary>
    [Range(1, PreparationScale.MostPortions)]
    public int? Portions { get; init; }
}

/// <summary>A span of molar mass.</summary>
public sealed record MolarMassSpan
{
    /// <summary>The lower end. Units: g/mol.</summary>
    [Range(20.0, 2000)]
    public required double Lowest { get; init; }

    /// <summary>The upper end; equal to the lower one where it is known. Units: g/mol.</summary>
    [Range(20.0, 2000)]
    public required double Highest { get; init; }
}

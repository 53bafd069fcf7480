using System.ComponentModel.DataAnnotations;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;

namespace Derivid.Contracts;

/// <summary>A structure to be looked at.</summary>
public sealed record StructureRequest
{
    /// <summary>The structure in the OpenSMILES notation.</summary>
    [StringLength(500)]
    public required string Smiles { get; init; }

    /// <summary>The name meant for it, to look for parents of the same. Missing: structures only are compared.</summary>
    [StringLength(200)]
    public string? Name { get; init; }
}

/// <summary>What follows from a structure.</summary>
/// <param name="TableVersion">Version of the reference table whose kinds, tests and parents were used.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMass">Molar mass. Units: g/mol.</param>
/// <param name="Kind">Which carbonyl function it brings.</param>
/// <param name="AldehydeGroups">How many aldehyde groups it has.</param>
/// <param name="KetoneGroups">How many ketone groups.</param>
/// <param name="Features">What surrounds them.</param>
/// <param name="SpotTests">How it is expected to answer each spot test.</param>
/// <param name="Derivatives">The derivatives it could form.</param>
/// <param name="Duplicates">Parents of the table that may be the same, by structure or by name.</param>
/// <param name="Remarks">What speaks against structure and name being a carbonyl compound's, in sentences. Usually empty.</param>
public sealed record StructureItem(
    int TableVersion,
    string Formula,
    double MolarMass,
    ParentKind Kind,
    int AldehydeGroups,
    int KetoneGroups,
    IReadOnlyList<string> Features,
    IReadOnlyList<ExpectedTestItem> SpotTests,
    IReadOnlyList<ComputedDerivativeItem> Derivatives,
    IReadOnlyList<DuplicateItem> Duplicates,
    IReadOnlyList<string> Remarks);

/// <summary>How a structure is expected to answer a spot test.</summary>
/// <param name="Test">Key of the test.</param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="AppliesTo">The class of structures the rate is for. Missing: no row of the table fits.</param>
/// <param name="Source">Key of the source. Missing: no row of the table fits.</param>
/// <param name="IsAssumed">Whether the rate is chosen for want of published ones.</param>
public sealed record ExpectedTestItem(string Test, double PositiveRate, string? AppliesTo, string? Source, bool IsAssumed);

/// <summary>A derivative that a structure could form, on paper.</summary>
/// <param name="Kind">Key of the kind.</param>
/// <param name="CarbonylsCondensed">Carbonyl groups that react.</param>
/// <param name="Formula">Molecular formula in Hill order.</param>
/// <param name="MolarMass">Molar mass. Units: g/mol.</param>
public sealed record ComputedDerivativeItem(string Kind, int CarbonylsCondensed, string Formula, double MolarMass);

/// <summary>A parent of the table that may be the one about to be added.</summary>
/// <param name="Parent">Its key.</param>
/// <param name="Name">Its name.</param>
/// <param name="Reason">Why it may be the same.</param>
public sealed record DuplicateItem(string Parent, string Name, string Reason);

/// <summary>What a version of the table still lacks.</summary>
/// <param name="TableVersion">The version.</param>
/// <param name="WithoutSecondDerivative">Keys of parents with derivatives of fewer than two kinds.</param>
/// <param name="NeverCrossChecked">Keys of derivative records that no independent source confirms.</param>
/// <param name="InseparablePairsInAll">How many pairs no spot test and no derivative of the table separates.</param>
/// <param name="InseparablePairs">The first 1000 of them.</param>
public sealed record CoverageItem(
    int TableVersion,
    IReadOnlyList<string> WithoutSecondDerivative,
    IReadOnlyList<string> NeverCrossChecked,
    int InseparablePairsInAll,
    IReadOnlyList<InseparablePair> InseparablePairs);

/// <summary>What to draw.</summary>
public sealed record DrawingQuery
{
    /// <summary>The structure in the OpenSMILES notation.</summary>
    [StringLength(500)]
    public required string Smiles { get; init; }

    /// <summary>What the drawing is called. Missing: by its notation.</summary>
    [StringLength(200)]
    public string? Name { get; init; }
}

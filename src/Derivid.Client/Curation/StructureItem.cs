namespace Derivid.Client.Curation;

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
/// <param name="Duplicates">Parents of the table that may be the same.</param>
public sealed record StructureItem(
    int TableVersion,
    string Formula,
    double MolarMass,
    string Kind,
    int AldehydeGroups,
    int KetoneGroups,
    IReadOnlyList<string> Features,
    IReadOnlyList<ExpectedTestItem> SpotTests,
    IReadOnlyList<ComputedDerivativeItem> Derivatives,
    IReadOnlyList<DuplicateItem> Duplicates);

using Derivid.Core.Teaching.ClassView;

namespace Derivid.Api.Teaching;

/// <summary>A class seen as a whole.</summary>
/// <param name="TableVersion">Version of the reference table the readings are held against.</param>
/// <param name="Reports">Reports that count.</param>
/// <param name="ByCompound">Deviations of corrected clear points from the literature, by compound handed out.</param>
/// <param name="ByBench">The same by bench.</param>
/// <param name="Suggestions">A thermometer offset common to a bench, or a bad batch: to look into, never a finding.</param>
/// <param name="Items">Compounds and criteria, hardest first, with their discrimination. Empty without a grading.</param>
/// <param name="Signals">Ranges and readings an instructor may want to look at, never a verdict.</param>
public sealed record OverviewItem(
    int TableVersion,
    int Reports,
    IReadOnlyList<DeviationSummary> ByCompound,
    IReadOnlyList<DeviationSummary> ByBench,
    IReadOnlyList<Suggestion> Suggestions,
    IReadOnlyList<ExaminationItem> Items,
    IReadOnlyList<Signal> Signals);

namespace Derivid.Client.Curation;

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

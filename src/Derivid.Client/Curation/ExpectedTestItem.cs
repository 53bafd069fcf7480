namespace Derivid.Client.Curation;

/// <summary>How a structure is expected to answer a spot test.</summary>
/// <param name="Test">Key of the test.</param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="AppliesTo">The class of structures the rate is for. Missing: no row of the table fits.</param>
/// <param name="Source">Key of the source. Missing: no row of the table fits.</param>
/// <param name="IsAssumed">Whether the rate is chosen for want of published ones.</param>
public sealed record ExpectedTestItem(string Test, double PositiveRate, string? AppliesTo, string? Source, bool IsAssumed);

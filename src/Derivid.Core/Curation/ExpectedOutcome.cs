using Derivid.Core.SpotTests;

namespace Derivid.Core.Curation;

/// <summary>How a structure is expected to answer one spot test.</summary>
/// <param name="Test">The test.</param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="Response">The row of the table that says so. Missing: null, no row fits; the test's own rate for "no" stands.</param>
public sealed record ExpectedOutcome(SpotTest Test, double PositiveRate, SpotTestResponse? Response);

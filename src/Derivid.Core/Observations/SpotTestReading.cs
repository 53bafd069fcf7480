using Derivid.Core.SpotTests;

namespace Derivid.Core.Observations;

/// <summary>The outcome of one spot test on the unknown.</summary>
/// <param name="TestKey">The test.</param>
/// <param name="Outcome">How it turned out.</param>
public sealed record SpotTestReading(string TestKey, SpotTestOutcome Outcome);

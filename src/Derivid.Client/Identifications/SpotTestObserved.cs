namespace Derivid.Client.Identifications;

/// <summary>The outcome of one spot test on the unknown.</summary>
public sealed record SpotTestObserved
{
    /// <summary>The test: key, name or a listed synonym. See /api/v1/spot-tests.</summary>
    public required string Test { get; init; }

    /// <summary>How it turned out; notDone is the same as leaving the test out, doubtful carries no weight.</summary>
    public required SpotTestOutcome Outcome { get; init; }
}

namespace Derivid.Core.Ranking;

/// <summary>How often a colour is called by its own name.</summary>
public sealed record ColourSettings
{
    /// <summary>Standard deviation of a call along the order of colours. Units: steps of the vocabulary.</summary>
    public required double CallSteps { get; init; }

    /// <summary>Share of calls that have nothing to do with the true colour.</summary>
    public required double LapseShare { get; init; }

    /// <summary>Weight of a recorded colour against the expectation from the structure.</summary>
    public required double RecordedShare { get; init; }
}

namespace Derivid.Client.Curation;

/// <summary>A proposal to be made.</summary>
public sealed record ProposalRequest
{
    /// <summary>What it is about, in a line.</summary>
    public required string Title { get; init; }

    /// <summary>Why, with the sources. Missing: the title says it.</summary>
    public string? Reason { get; init; }

    /// <summary>A version to go back to: the proposal begins with all that differs from it. Missing: it begins empty.</summary>
    public int? RestoresVersion { get; init; }
}

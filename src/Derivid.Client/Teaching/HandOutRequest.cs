namespace Derivid.Client.Teaching;

/// <summary>How unknowns are to be handed out.</summary>
public sealed record HandOutRequest
{
    /// <summary>
    /// A secret from which the hand-out can be worked out again; as secret as the answers, at least 16 characters. Missing:
    /// one is made, and given back.
    /// </summary>
    public string? Seed { get; init; }

    /// <summary>Unknowns each student gets, all different. Missing: 1.</summary>
    public int? UnknownsPerStudent { get; init; }

    /// <summary>Least probability that ideal readings must give the compound among the shelf. Missing: 0.8.</summary>
    public double? LeastPosterior { get; init; }

    /// <summary>Compounds harder than this are left out: 0 is easy, 1 hopeless. Missing: 1.</summary>
    public double? LargestDifficulty { get; init; }

    /// <summary>Whether compounds that cannot be identified are handed out all the same, flagged. Missing: no.</summary>
    public bool? HandsOutUnidentifiable { get; init; }
}

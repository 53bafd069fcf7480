namespace Derivid.Core.Teaching.HandOuts;

/// <summary>A hand-out of unknowns that satisfies its rules.</summary>
public sealed record HandOut
{
    /// <summary>The unknowns. Shape: by student's identifier, then number.</summary>
    public required IReadOnlyList<HandedOutUnknown> Unknowns { get; init; }

    /// <summary>What was found out about each compound of the shelf. Shape: by key.</summary>
    public required IReadOnlyList<Identifiability> Shelf { get; init; }

    /// <summary>Compounds of the shelf that were not used because the rules keep them out. Shape: by key; may be empty.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>Number of unknowns by compound, those kept out not named. Shape: by key.</summary>
    public required IReadOnlyDictionary<string, int> Uses { get; init; }

    /// <summary>Sum of the difficulties of the student with the easiest unknowns.</summary>
    public required double EasiestTotal { get; init; }

    /// <summary>Sum of the difficulties of the student with the hardest unknowns.</summary>
    public required double HardestTotal { get; init; }

    /// <summary>What an instructor should know: compounds left out or flagged, uses that could not be evened. Shape: may be empty.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }
}

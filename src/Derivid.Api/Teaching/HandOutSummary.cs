using Derivid.Core.Teaching.HandOuts;

namespace Derivid.Api.Teaching;

/// <summary>Rules of a hand-out, and what came of them.</summary>
public sealed record HandOutSummary
{
    /// <summary>Unknowns each student got.</summary>
    public required int UnknownsPerStudent { get; init; }

    /// <summary>Least probability that ideal readings had to give.</summary>
    public required double LeastPosterior { get; init; }

    /// <summary>Largest difficulty handed out.</summary>
    public required double LargestDifficulty { get; init; }

    /// <summary>Whether compounds that cannot be identified were handed out all the same.</summary>
    public required bool HandsOutUnidentifiable { get; init; }

    /// <summary>Unknowns by compound.</summary>
    public required IReadOnlyDictionary<string, int> Uses { get; init; }

    /// <summary>Compounds of the shelf kept out by the rules.</summary>
    public required IReadOnlyList<string> LeftOut { get; init; }

    /// <summary>Sum of the difficulties of the student with the easiest unknowns.</summary>
    public required double EasiestTotal { get; init; }

    /// <summary>Sum of the difficulties of the student with the hardest unknowns.</summary>
    public required double HardestTotal { get; init; }

    /// <summary>What an instructor should know: compounds left out or flagged, uses that could not be evened.</summary>
    public required IReadOnlyList<string> Remarks { get; init; }

    /// <summary>Every compound of the shelf.</summary>
    public required IReadOnlyList<ShelfItem> Shelf { get; init; }

    /// <summary>Translates.</summary>
    /// <param name="rules">The rules.</param>
    /// <param name="handOut">What came of them.</param>
    public static HandOutSummary Of(HandOutRules rules, HandOut handOut)
    {
        ArgumentNullException.ThrowIfNull(rules);
        ArgumentNullException.ThrowIfNull(handOut);
        return new HandOutSummary
        {
            UnknownsPerStudent = rules.UnknownsPerStudent,
            LeastPosterior = rules.LeastPosterior,
            LargestDifficulty = rules.LargestDifficulty,
            HandsOutUnidentifiable = rules.HandsOutUnidentifiable,
            Uses = handOut.Uses,
            LeftOut = handOut.LeftOut,
            EasiestTotal = handOut.EasiestTotal,
            HardestTotal = handOut.HardestTotal,
            Remarks = handOut.Remarks,
            Shelf = [.. handOut.Shelf.Select(ShelfItem.Of)],
        };
    }
}

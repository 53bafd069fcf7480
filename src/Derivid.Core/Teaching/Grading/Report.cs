using Derivid.Core.Compounds;
using Derivid.Core.Observations;

namespace Derivid.Core.Teaching.Grading;

/// <summary>What a student handed in for one unknown, as far as it is graded.</summary>
public sealed record Report
{
    /// <summary>
    /// What was seen. Its prior is not looked at: what the compound was taken from is the instructor's to say, in
    /// <see cref="Unknown.ShelfKeys"/>.
    /// </summary>
    public required Observation Observation { get; init; }

    /// <summary>The compound claimed. Missing: null, none.</summary>
    public string? ClaimedParentKey { get; init; }

    /// <summary>The function claimed, where no compound is. Missing: null, none.</summary>
    public ParentKind? ClaimedKind { get; init; }

    /// <summary>Which attempt this is, from 1.</summary>
    public int Attempt { get; init; } = 1;

    /// <summary>Time past the deadline. Missing: zero, in time.</summary>
    public TimeSpan Lateness { get; init; }
}

/// <summary>What was in the vial, and what it was taken from.</summary>
/// <param name="ParentKey">The compound handed out. Never shown to a student.</param>
/// <param name="ShelfKeys">The shelf list it was taken from. Shape: holds the compound; empty for the whole table.</param>
public sealed record Unknown(string ParentKey, IReadOnlyList<string> ShelfKeys)
{
    /// <summary>The derivative kinds that the course offers; others earn nothing. Shape: empty for all of the table's.</summary>
    public IReadOnlyList<string> KindKeys { get; init; } = [];

    /// <summary>The spot tests that the course offers; others earn nothing. Shape: empty for all of the table's.</summary>
    public IReadOnlyList<string> SpotTestKeys { get; init; } = [];

    internal bool OffersKind(string key) => KindKeys.Count == 0 || KindKeys.Contains(key);

    internal bool OffersTest(string key) => SpotTestKeys.Count == 0 || SpotTestKeys.Contains(key);

    /// <summary>Without the identity, so that a log line gives nothing away.</summary>
    public override string ToString() => "(unknown)";
}

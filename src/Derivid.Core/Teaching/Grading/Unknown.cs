namespace Derivid.Core.Teaching.Grading;

/// <summary>What was in the vial, and what it was taken from.</summary>
/// <param name="ParentKey">The compound handed out. Never shown to a student.</param>
/// <param name="ShelfKeys">The shelf list it was taken from. Shape: holds the compound; empty for the whole table.</param>
public sealed record Unknown(string ParentKey, IReadOnlyList<string> ShelfKeys)
{
    /// <summary>Without the answer, so that a log line gives nothing away.</summary>
    public override string ToString() => "(unknown)";
}

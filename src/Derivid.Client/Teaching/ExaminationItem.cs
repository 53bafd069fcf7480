namespace Derivid.Client.Teaching;

/// <summary>How hard one item was, and whether it told strong students from weak ones.</summary>
/// <param name="Kind">What sort of item it is.</param>
/// <param name="Key">The compound, or the criterion.</param>
/// <param name="Count">Reports behind it.</param>
/// <param name="ShareRight">Share that got it right: 1 easy, 0 hard.</param>
/// <param name="Discrimination">
/// Point-biserial correlation of getting it right with the share of points earned by the rest of the report, the item's own criterion
/// left out. Bounds: −1 to 1. Missing: null, all or none were right, or all earned alike.
/// </param>
public sealed record ExaminationItem(string Kind, string Key, int Count, double ShareRight, double? Discrimination);

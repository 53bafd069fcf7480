namespace Derivid.Client.Table;

/// <summary>How the parents of one structural class, or one named parent, answer a test.</summary>
/// <param name="Order">Rows are tried in this order.</param>
/// <param name="AppliesTo">Features joined by "+", "any", or "parent:" and a key.</param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="AnswersYes">Whether such a parent answers the family's question yes.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Note">Why, in the words of the bench. Missing: none.</param>
public sealed record ResponseItem(
    int Order, string AppliesTo, double PositiveRate, bool AnswersYes, bool IsAssumed, string Source, string? Note);

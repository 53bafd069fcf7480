namespace Derivid.Core.SpotTests;

/// <summary>How the parents of one structural class, or one named parent, answer one test.</summary>
/// <param name="TestKey">The test.</param>
/// <param name="Order">Rows of a test are tried in this order; the first that fits the parent applies.</param>
/// <param name="AppliesTo">
/// Features the parent must all have, joined by "+"; "any"; or "parent:" and a parent key for a single exception.
/// See <c>Structures.StructureFeature</c>.
/// </param>
/// <param name="PositiveRate">Probability that a clean sample gives a positive.</param>
/// <param name="AnswersYes">Whether such a parent answers the family's question yes.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="SourceKey">Source of the behaviour (and of the rate where it is not assumed).</param>
/// <param name="Note">Why, in the words of the bench. Missing: null.</param>
public sealed record SpotTestResponse(
    string TestKey,
    int Order,
    string AppliesTo,
    double PositiveRate,
    bool AnswersYes,
    bool IsAssumed,
    string SourceKey,
    string? Note);

namespace Derivid.Client.Table;

/// <summary>The colours expected of one derivative kind for parents of one structural class.</summary>
/// <param name="Order">Classes are tried in this order.</param>
/// <param name="StructureClass">Features the parent must all have, joined by "+", or "any".</param>
/// <param name="Probabilities">Probability by key of the colour; they sum to 1.</param>
/// <param name="IsAssumed">Whether they are assumed, for want of published frequencies.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Note">A curator's remark. Missing: none.</param>
public sealed record ColourExpectationItem(
    int Order,
    string StructureClass,
    IReadOnlyDictionary<string, double> Probabilities,
    bool IsAssumed,
    string Source,
    string? Note);

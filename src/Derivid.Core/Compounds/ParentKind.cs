namespace Derivid.Core.Compounds;

/// <summary>What carbonyl function a parent brings to the reagent.</summary>
public enum ParentKind
{
    /// <summary>One or more aldehyde groups, no ketone.</summary>
    Aldehyde,

    /// <summary>One or more ketone groups, no aldehyde.</summary>
    Ketone,

    /// <summary>Aldehyde and ketone in one molecule.</summary>
    Both,

    /// <summary>The carbonyl group is set free only under the conditions of the test (acetal, hydrate).</summary>
    Masked,
}

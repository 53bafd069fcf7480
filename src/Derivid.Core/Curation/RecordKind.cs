namespace Derivid.Core.Curation;

/// <summary>The kinds of record the reference table holds, in the order in which one may be entered after another.</summary>
public enum RecordKind
{
    /// <summary>A source.</summary>
    Source,

    /// <summary>A parent compound.</summary>
    Parent,

    /// <summary>A constant of a parent.</summary>
    ParentConstant,

    /// <summary>A derivative kind.</summary>
    DerivativeKind,

    /// <summary>A step of the colour vocabulary.</summary>
    Colour,

    /// <summary>A derivative record.</summary>
    Derivative,

    /// <summary>A question of spot tests.</summary>
    SpotTestQuestion,

    /// <summary>A spot test.</summary>
    SpotTest,

    /// <summary>How a class of parents answers a test.</summary>
    SpotTestResponse,

    /// <summary>The colours expected of a class of parents.</summary>
    ColourExpectation,

    /// <summary>A melting-point standard.</summary>
    MeltingPointStandard,
}

namespace Derivid.Core.Ranking;

/// <summary>What sort of work a next step is.</summary>
public enum NextStepKind
{
    /// <summary>Make another derivative and take its melting range.</summary>
    Derivative,

    /// <summary>Run a spot test.</summary>
    SpotTest,

    /// <summary>Take the boiling range of the unknown.</summary>
    BoilingPoint,

    /// <summary>Take the melting range of the unknown.</summary>
    MeltingPoint,

    /// <summary>Melt a mixture of the derivative with an authentic sample of the leading candidate's.</summary>
    MixedMeltingPoint,
}

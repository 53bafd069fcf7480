namespace Derivid.Core.Teaching.Grading;

/// <summary>What a rubric gives or takes points for.</summary>
public enum CriterionKind
{
    /// <summary>The compound claimed is the one handed out.</summary>
    RightCompound,

    /// <summary>It is of the same class.</summary>
    RightClass,

    /// <summary>The student's own evidence bears the claim out, right or wrong.</summary>
    SupportedClaim,

    /// <summary>The melting ranges are sharp.</summary>
    RangeWidth,

    /// <summary>The melting ranges lie where the literature puts the compound handed out.</summary>
    RangeDistance,

    /// <summary>Recrystallising improved the melting range.</summary>
    Recrystallisation,

    /// <summary>The spot tests reported fit the claim.</summary>
    TestsFitClaim,

    /// <summary>The spot tests reported fit the compound handed out.</summary>
    TestsFitCompound,

    /// <summary>Attempts beyond those free; takes points.</summary>
    Attempts,

    /// <summary>Handed in past the deadline; takes points.</summary>
    Lateness,
}

namespace Derivid.Core.Ranking;

/// <summary>How a parent takes to a reagent.</summary>
internal enum PrecipitateBehaviour
{
    /// <summary>Forms the derivative readily.</summary>
    Ready,

    /// <summary>Forms it slowly or crystallises badly: methanal, a hindered ketone or a long open chain.</summary>
    Slow,

    /// <summary>May close to a ring with the reagent, to a product of another composition.</summary>
    ClosesRing,

    /// <summary>Cannot form it.</summary>
    NotFormed,
}

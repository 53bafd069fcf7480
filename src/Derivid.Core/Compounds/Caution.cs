namespace Derivid.Core.Compounds;

/// <summary>A caution of the table as it is shown: the table keeps what is particular, the deferral is said here.</summary>
public static class Caution
{
    /// <summary>What every caution shown by itself closes with.</summary>
    public const string Deferral = "Local rules and the supplier's safety data sheet decide.";

    /// <summary>What a list of cautions closes with, in the place of a deferral after each.</summary>
    public const string DeferralOfList =
        "These are the usual cautions, not a risk assessment: local rules, the supplier's safety data sheets and the supervisor decide.";

    /// <summary>A caution shown by itself.</summary>
    /// <param name="caution">The table's caution for a kind or a test.</param>
    public static string ByItself(string caution) => $"{caution} {Deferral}";
}

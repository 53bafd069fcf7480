using Derivid.Core.Compounds;

namespace Derivid.Page.Answers;

/// <summary>Probabilities, hazards and states of verification in words.</summary>
public static class Confidence
{
    /// <summary>How sure something is, as a reader says it.</summary>
    /// <param name="probability">Bounds: 0 to 1.</param>
    public static string Of(double probability) => probability switch
    {
        >= 0.99 => "almost certainly",
        >= 0.9 => "very probably",
        >= 0.75 => "probably",
        >= 0.5 => "more likely than not",
        >= 0.25 => "possibly",
        _ => "perhaps",
    };

    /// <summary>A class of hazard.</summary>
    /// <param name="hazard">The class.</param>
    public static string Of(Hazard hazard) => hazard switch
    {
        Hazard.Low => "low",
        Hazard.Moderate => "moderate",
        Hazard.High => "high",
    };

    /// <summary>How far a value was followed back.</summary>
    /// <param name="verification">How far.</param>
    public static string Of(Verification verification) => verification switch
    {
        Verification.Recalled => "recalled",
        Verification.Read => "read",
        Verification.CrossChecked => "cross-checked",
    };
}

namespace Derivid.Validation.Baselines;

/// <summary>How people pick a compound from a handbook without probabilities.</summary>
public enum BaselineRule
{
    /// <summary>The listed temperatures nearest to those read.</summary>
    Nearest,

    /// <summary>Those within ±5 °C of every temperature read first, nearest first.</summary>
    Window,

    /// <summary>Of those in the window, the ones that no spot test contradicts first.</summary>
    WindowAndTests,
}

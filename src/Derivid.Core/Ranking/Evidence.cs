using System.Globalization;

namespace Derivid.Core.Ranking;

/// <summary>One observation weighed against one candidate.</summary>
/// <param name="Kind">What sort of observation it is.</param>
/// <param name="Subject">The derivative kind or spot-test question it is about. Missing: null where there is only one.</param>
/// <param name="LogLikelihoodRatio">
/// Natural logarithm of P(observation given candidate) / P(observation given a parent drawn at random from the
/// table). Zero: says nothing. Above zero: speaks for the candidate.
/// </param>
/// <param name="Sentence">The same in words.</param>
/// <param name="SourceKeys">Sources of the values it rests on. Shape: may be empty, no repeats.</param>
public sealed record Evidence(
    EvidenceKind Kind,
    string? Subject,
    double LogLikelihoodRatio,
    string Sentence,
    IReadOnlyList<string> SourceKeys);

/// <summary>What sort of observation a piece of evidence is.</summary>
public enum EvidenceKind
{
    /// <summary>The melting range of a derivative.</summary>
    DerivativeMeltingRange,

    /// <summary>A derivative's reagent with which no crystals came.</summary>
    Precipitate,

    /// <summary>How soon the crystals of a derivative came.</summary>
    PrecipitateTime,

    /// <summary>The colour of a derivative.</summary>
    DerivativeColour,

    /// <summary>The spot tests that ask one question, taken together.</summary>
    SpotTests,

    /// <summary>Whether the unknown is a liquid or a solid.</summary>
    State,

    /// <summary>The boiling range of the unknown.</summary>
    BoilingPoint,

    /// <summary>The melting range of the unknown itself.</summary>
    MeltingPoint,

    /// <summary>The melting range of a mixture with an authentic sample.</summary>
    MixedMelting,

    /// <summary>The molar mass of the unknown.</summary>
    MolarMass,

    /// <summary>The elements found or not found in the unknown.</summary>
    Elements,
}

/// <summary>A log likelihood ratio in words a student understands.</summary>
public static class LikelihoodWords
{
    /// <summary>A factor below this is told as saying nothing. Chosen.</summary>
    private const double LeastTold = 1.1;

    /// <summary>Whether a piece of evidence is told as speaking neither for nor against a compound.</summary>
    /// <param name="logRatio">Natural logarithm of the ratio against a compound drawn at random from the table.</param>
    public static bool IsNeither(double logRatio) => Math.Exp(Math.Abs(logRatio)) < LeastTold;

    /// <summary>The sentence.</summary>
    /// <param name="logRatio">Natural logarithm of the ratio against a compound drawn at random from the table.</param>
    internal static string Of(double logRatio)
    {
        if (IsNeither(logRatio))
        {
            return "This speaks neither for nor against it.";
        }

        var factor = Math.Exp(Math.Abs(logRatio));

        var comparison = logRatio > 0 ? "as likely as" : "less likely than";
        return $"That is {Round(factor)} times {comparison} from a compound drawn at random from the table.";
    }

    /// <summary>Two figures are all such a factor deserves.</summary>
    private static string Round(double factor) =>
        factor switch
        {
            >= 10_000 => "over 10000",
            >= 99.5 => (Math.Round(factor / 100) * 100).ToString("F0", CultureInfo.InvariantCulture),
            >= 9.95 => factor.ToString("F0", CultureInfo.InvariantCulture),
            _ => factor.ToString("F1", CultureInfo.InvariantCulture),
        };
}

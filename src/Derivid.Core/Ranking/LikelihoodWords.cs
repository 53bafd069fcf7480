using System.Globalization;

namespace Derivid.Core.Ranking;

/// <summary>A log likelihood ratio in words a student understands.</summary>
internal static class LikelihoodWords
{
    /// <summary>The sentence.</summary>
    /// <param name="logRatio">Natural logarithm of the ratio against a compound drawn at random from the table.</param>
    public static string Of(double logRatio)
    {
        var factor = Math.Exp(Math.Abs(logRatio));
        if (factor < 1.1)
        {
            return "This speaks neither for nor against it.";
        }

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

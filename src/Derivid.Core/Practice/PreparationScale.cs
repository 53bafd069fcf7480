using Derivid.Core.Compounds;

namespace Derivid.Core.Practice;

/// <summary>How much of a carbonyl compound a derivative may be made from, by what can happen.</summary>
/// <remarks>
/// All limits are chosen by the project for a teaching laboratory; no source prints them. A laboratory with rules of its own
/// goes by those, which may well be narrower.
/// </remarks>
public static class PreparationScale
{
    /// <summary>The least carbonyl compound. Units: mg. Chosen: less can't be recrystallised and melted with what a class has.</summary>
    public const double LeastMilligrams = 20;

    /// <summary>The most. Units: mg. Chosen: far more than identifying takes; above it heat and fumes need an assessment of their own.</summary>
    public const double MostMilligrams = 5000;

    /// <summary>The most where reagent or product can explode. Units: mg. Chosen: a tenth, so that a few grams of crystals at most lie on a filter.</summary>
    public const double MostExplosiveMilligrams = 500;

    /// <summary>The most for all portions together where reagent or product can explode. Units: mg. Chosen: what one preparation of another kind may be.</summary>
    public const double MostExplosiveInAllMilligrams = 5000;

    /// <summary>The most reagent beyond what reacts, as a share of that. Chosen: more has to be washed out of the crystals again.</summary>
    public const double MostExcess = 2;

    /// <summary>The least: so much of it may be missing. Chosen: with less, next to nothing would come.</summary>
    public const double LeastExcess = -0.9;

    /// <summary>The excess where none is asked for. Chosen: a tenth, which makes up for a reagent not quite pure.</summary>
    public const double UsualExcess = 0.1;

    /// <summary>The most portions worked out at once. Chosen: a large class.</summary>
    public const int MostPortions = 100;

    /// <summary>The most carbonyl compound for one derivative of a kind. Units: mg.</summary>
    /// <param name="kind">The kind.</param>
    public static double MostMilligramsOf(DerivativeKind kind)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return kind.CanExplode ? MostExplosiveMilligrams : MostMilligrams;
    }

    /// <summary>Why a scale is refused.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="milligrams">Carbonyl compound for one derivative. Units: mg.</param>
    /// <returns>Value, what is allowed and why. Missing: null, it is not refused.</returns>
    public static string? Refusal(DerivativeKind kind, double milligrams)
    {
        ArgumentNullException.ThrowIfNull(kind);
        var most = MostMilligramsOf(kind);
        if (milligrams >= LeastMilligrams && milligrams <= most)
        {
            return null;
        }

        var why = !(milligrams >= LeastMilligrams)
                ? "less can hardly be filtered, recrystallised and melted"
            : kind.CanExplode && milligrams <= MostMilligrams
                ? $"{kind.ReagentName} or what it gives can explode when dry or heated, so little of it should lie together"
            : kind.CanExplode
                ? $"{kind.ReagentName} or what it gives can explode when dry or heated, so little of it should lie together, and so much is not needed to identify anything"
            : "so much is not needed to identify anything, and its heat, fumes and waste need an assessment of their own";
        return FormattableString.Invariant(
            $"{milligrams} mg of the carbonyl compound; {LeastMilligrams} to {most} mg is allowed for the {kind.Name}: {why}.");
    }

    /// <summary>Why so many portions are refused.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="milligrams">Carbonyl compound for one derivative. Units: mg.</param>
    /// <param name="portions">How many.</param>
    /// <returns>Value, what is allowed and why. Missing: null, they are not refused.</returns>
    public static string? RefusalInAll(DerivativeKind kind, double milligrams, int portions)
    {
        ArgumentNullException.ThrowIfNull(kind);
        return kind.CanExplode && portions * milligrams > MostExplosiveInAllMilligrams
            ? FormattableString.Invariant(
                $"{portions} portions of {milligrams} mg; {Math.Floor(MostExplosiveInAllMilligrams / milligrams)} of them are allowed, {MostExplosiveInAllMilligrams} mg in all: {kind.ReagentName} or what it gives can explode when dry or heated, so it is made up in several lots.")
            : null;
    }
}

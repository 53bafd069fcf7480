using Derivid.Core.Observations;

namespace Derivid.Core.Ranking;

/// <summary>Whether an unlisted relative of each parent may be no aldehyde or ketone, after the reagents tried so far.</summary>
/// <remarks>
/// An acid, an ester or an alcohol fails with every reagent, so outcomes of several reagents go together for "none of
/// these". Taking each outcome given the ones before makes the product the joint probability, whatever the order.
/// </remarks>
internal sealed class RelativesByReagent
{
    private ParentValues _notCarbonyl;

    /// <summary>Starts from the model's share, for each parent's relatives.</summary>
    public RelativesByReagent(TableSnapshot snapshot) =>
        _notCarbonyl = ParentValues.OfClasses(snapshot.Classes, (_, _) => snapshot.Settings.OpenSet.NotCarbonylShare);

    /// <summary>Takes in what came with one reagent.</summary>
    /// <param name="rates">The reagent's rates.</param>
    /// <param name="came">What came.</param>
    /// <returns>Probability of that outcome given the ones before, by parent.</returns>
    public ParentValues TakeIn(PrecipitateRates rates, Precipitate came) => TakeIn(rates.Of(came), rates.OfNotCarbonyl(came));

    /// <summary>Takes in one outcome that only an aldehyde or ketone should give.</summary>
    /// <param name="carbonyl">Its probability for each parent.</param>
    /// <param name="other">Its probability for a compound that is no aldehyde or ketone.</param>
    /// <returns>Probability of that outcome given the ones before, by parent.</returns>
    public ParentValues TakeIn(ParentValues carbonyl, double other)
    {
        var likelihood = Foresee(carbonyl, other);
        _notCarbonyl = _notCarbonyl.With(likelihood, (share, given) => share * (other / given));
        return likelihood;
    }

    /// <summary>Probability of an outcome for each parent's relative, after the reagents taken in.</summary>
    /// <param name="carbonyl">Its probability for the parent.</param>
    /// <param name="other">Its probability for a compound that is no aldehyde or ketone.</param>
    public ParentValues Foresee(ParentValues carbonyl, double other) =>
        _notCarbonyl.With(carbonyl, (share, given) => Mixed(share, given, other));

    /// <summary>Probability of an outcome for a relative that may be no aldehyde or ketone.</summary>
    public static double Mixed(double notCarbonyl, double carbonyl, double other) =>
        (notCarbonyl * other) + ((1 - notCarbonyl) * carbonyl);
}

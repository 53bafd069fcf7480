using Derivid.Core.Observations;

namespace Derivid.Core.Ranking;

/// <summary>Whether an unlisted relative of each parent may be no aldehyde or ketone, after the reagents tried so far.</summary>
/// <remarks>
/// An acid, an ester or an alcohol fails with every reagent, so outcomes of several reagents go together for "none of
/// these". Taking each outcome given the ones before makes the product the joint probability, whatever the order.
/// </remarks>
internal sealed class RelativesByReagent
{
    private readonly double[] _notCarbonyl;

    /// <summary>Starts from the model's share, for each parent's relatives.</summary>
    public RelativesByReagent(TableSnapshot snapshot)
    {
        _notCarbonyl = new double[snapshot.Parents.Count];
        Array.Fill(_notCarbonyl, snapshot.Settings.OpenSet.NotCarbonylShare);
    }

    /// <summary>Takes in what came with one reagent.</summary>
    /// <param name="rates">The reagent's rates.</param>
    /// <param name="came">What came.</param>
    /// <returns>Probability of that outcome given the ones before. Shape: one a parent.</returns>
    public double[] TakeIn(PrecipitateRates rates, Precipitate came) => TakeIn(rates.Of(came), rates.OfNotCarbonyl(came));

    /// <summary>Takes in one outcome that only an aldehyde or ketone should give.</summary>
    /// <param name="carbonyl">Its probability for each parent. Shape: one a parent.</param>
    /// <param name="other">Its probability for a compound that is no aldehyde or ketone.</param>
    /// <returns>Probability of that outcome given the ones before. Shape: one a parent.</returns>
    public double[] TakeIn(ReadOnlySpan<double> carbonyl, double other)
    {
        var likelihood = new double[_notCarbonyl.Length];
        for (var parent = 0; parent < likelihood.Length; parent++)
        {
            likelihood[parent] = Mixed(_notCarbonyl[parent], carbonyl[parent], other);
            _notCarbonyl[parent] *= other / likelihood[parent];
        }

        return likelihood;
    }

    /// <summary>Probability of an outcome for a parent's relative, after the reagents taken in.</summary>
    /// <param name="parent">Index of the parent.</param>
    /// <param name="carbonyl">Its probability for the parent.</param>
    /// <param name="other">Its probability for a compound that is no aldehyde or ketone.</param>
    public double Foresee(int parent, double carbonyl, double other) => Mixed(_notCarbonyl[parent], carbonyl, other);

    /// <summary>Probability of an outcome for a relative that may be no aldehyde or ketone.</summary>
    public static double Mixed(double notCarbonyl, double carbonyl, double other) =>
        (notCarbonyl * other) + ((1 - notCarbonyl) * carbonyl);
}

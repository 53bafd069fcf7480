using System.Numerics.Tensors;
using Derivid.Core.Ranking.Distributions;
using Derivid.Core.Ranking.Forecasts;

namespace Derivid.Core.Ranking;

/// <summary>How likely each parent, and an unlisted relative of it, is met as a solid at room temperature.</summary>
/// <remarks>A parent with no melting point listed counts by its estimate. Built once a table version.</remarks>
public sealed class SolidShares
{
    private readonly double[] _own;
    private readonly SpotTestForecast _forecast;
    private readonly double[] _relative;

    /// <summary>Works the shares out.</summary>
    /// <param name="melting">Melting points of the parents.</param>
    /// <param name="settings">The model's numbers.</param>
    public SolidShares(ListedTemperatures melting, ModelSettings settings)
    {
        ArgumentNullException.ThrowIfNull(melting);
        ArgumentNullException.ThrowIfNull(settings);
        var (state, open) = (settings.State, settings.OpenSet);
        _own = Shares(melting, state.SpreadCelsius, state.MistakeShare, 0);
        _forecast = new SpotTestForecast(ParentValues.Each(_own));
        _relative = Shares(
            melting, Math.Sqrt((state.SpreadCelsius * state.SpreadCelsius) + (open.ParentMeltingCelsius * open.ParentMeltingCelsius)),
            state.MistakeShare,
            open.EvenShare);
    }

    /// <summary>Expected fall of entropy on seeing whether the unknown is a liquid or a solid.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="ofNone">Probability that an unlisted compound is a solid; see <see cref="OfRelatives"/>.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double ExpectedInformation(ForecastWeights weights, double ofNone) => _forecast.ExpectedInformation(weights, ofNone);

    /// <summary>Probability that the unknown is a solid.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="ofNone">Probability that an unlisted compound is a solid; see <see cref="OfRelatives"/>.</param>
    public double Of(ForecastWeights weights, double ofNone)
    {
        ArgumentNullException.ThrowIfNull(weights);
        var solid = weights.None * ofNone;
        for (var i = 0; i < weights.Parents.Length; i++)
        {
            solid += weights.Weights[i] * _own[weights.Parents[i]];
        }

        return solid;
    }

    /// <summary>Probability that an unlisted compound is a solid.</summary>
    /// <param name="relativeShare">Share of relatives of each parent among unlisted compounds.</param>
    public double OfRelatives(ReadOnlySpan<double> relativeShare) => TensorPrimitives.Dot(relativeShare, _relative);

    /// <summary>Of each parent.</summary>
    public ParentValues Own => _forecast.Positive;

    /// <summary>Of a parent.</summary>
    public double Of(int parent) => _own[parent];

    /// <summary>Of an unlisted relative of it.</summary>
    public double OfRelative(int parent) => _relative[parent];

    private static double[] Shares(ListedTemperatures melting, double spread, double mistakes, double average)
    {
        var shares = melting.Averages(
            value => NormalDensity.Below(value.HighCelsius - TableSnapshot.RoomCelsius, spread),
            estimate => 1 - estimate.ReadWithin(spread).ProbabilityBelow(TableSnapshot.RoomCelsius),
            ifNone: 0.5);
        var mean = shares.Average();
        return [.. shares.Select(share => ((1 - average) * share) + (average * mean))
            .Select(share => ((1 - mistakes) * share) + (mistakes * (1 - share)))];
    }
}

using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking;

/// <summary>How likely each parent, and an unlisted relative of it, is met as a solid at room temperature.</summary>
/// <remarks>A parent with no melting point listed counts by its estimate. Built once a table version.</remarks>
public sealed class SolidShares
{
    private readonly double[] _own;
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
        _relative = Shares(
            melting, Math.Sqrt((state.SpreadCelsius * state.SpreadCelsius) + (open.ParentMeltingCelsius * open.ParentMeltingCelsius)),
            state.MistakeShare,
            open.EvenShare);
    }

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

using Derivid.Core.Melting;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>A melting or boiling range weighed against the listed ones.</summary>
internal sealed class TemperatureLikelihoods : ParentLikelihoods
{
    private readonly TableSnapshot _snapshot;
    private readonly ListedTemperatures _listed;
    private readonly MeltingRange _used;
    private readonly string _quantity;
    private readonly string _read;
    private readonly (double[] Own, double[] Relative) _densities;

    private TemperatureLikelihoods(
        EvidenceKind kind,
        string? subject,
        string quantity,
        TableSnapshot snapshot,
        ListedTemperatures listed,
        MeltingRange used,
        (double[] Own, double[] Relative) densities)
        : base(kind, subject, ParentValues.Each(densities.Own), ParentValues.Each(densities.Relative))
    {
        _snapshot = snapshot;
        _listed = listed;
        _used = used;
        _quantity = quantity;
        _densities = densities;
        _read = Figure.Degrees(used.ClearPointCelsius);
    }

    /// <summary>The quantity in words.</summary>
    public string Quantity => _quantity;

    /// <summary>The parent that explains the range best, of all alike the first.</summary>
    public int MostLikely()
    {
        var best = 0;
        for (var parent = 1; parent < _listed.ParentCount; parent++)
        {
            best = Likelihood[parent] > Likelihood[best] ? parent : best;
        }

        return best;
    }

    /// <summary>How far the clear point is from the nearest value listed for any parent. Units: °C. Missing: null, none is.</summary>
    public double? NearestCelsius() =>
        _listed.DistanceCelsius(_used.ClearPointCelsius) is < double.PositiveInfinity and var away ? away : null;

    /// <summary>The range after corrections.</summary>
    public MeltingRange Used => _used;

    /// <summary>Weighs a range.</summary>
    /// <param name="kind">Which quantity it is.</param>
    /// <param name="subject">The derivative kind. Missing: null.</param>
    /// <param name="quantity">The quantity in words, such as "semicarbazone" or "boiling point".</param>
    /// <param name="snapshot">The table.</param>
    /// <param name="listed">The values listed.</param>
    /// <param name="used">The range after corrections.</param>
    /// <param name="error">How the reading may err.</param>
    public static TemperatureLikelihoods Weigh(
        EvidenceKind kind,
        string? subject,
        string quantity,
        TableSnapshot snapshot,
        ListedTemperatures listed,
        MeltingRange used,
        ReadingError error)
    {
        var (own, relative) = (snapshot.Arrays.Take(), snapshot.Arrays.Take());
        listed.Weigh(used.ClearPointCelsius, error, own, relative);
        return new TemperatureLikelihoods(kind, subject, quantity, snapshot, listed, used, (own, relative));
    }

    /// <summary>Gives back the room that the densities take.</summary>
    public void GiveBack()
    {
        _snapshot.Arrays.Give(_densities.Own);
        _snapshot.Arrays.Give(_densities.Relative);
    }

    /// <summary>The classical window comparison with the nearest listed range.</summary>
    /// <param name="parent">Index of the parent.</param>
    /// <param name="windowCelsius">Half width of the window. Units: °C.</param>
    /// <returns>Missing: null, nothing is listed.</returns>
    public WindowCheck? Check(int parent, double windowCelsius)
    {
        if (_listed.Nearest(parent, _used.ClearPointCelsius) is not { } nearest)
        {
            return null;
        }

        var deviation = ListedTemperatures.DeviationFrom(nearest, _used.ClearPointCelsius);
        var onsetDeviation = ListedTemperatures.DeviationFrom(nearest, _used.OnsetCelsius);
        var isClearPointInside = Math.Abs(deviation) <= windowCelsius;
        return new WindowCheck(
            Kind,
            Subject,
            nearest.LowCelsius,
            nearest.HighCelsius,
            nearest.SourceKey,
            deviation,
            isClearPointInside,
            isClearPointInside && Math.Abs(onsetDeviation) <= windowCelsius);
    }

    protected override string Describe(int parent)
    {
        var name = _snapshot.Parents[parent].Name;
        if (!_listed.CanHave(parent))
        {
            return $"{name} is not expected to give a {_quantity}.";
        }

        if (_listed.Nearest(parent, _used.ClearPointCelsius) is not { } nearest)
        {
            return _listed.EstimateOf(parent) is { } estimate
                ? $"No {_quantity} of {name} is listed; it is estimated at {Figure.Text(estimate.MeanCelsius, decimals: 0)} °C, give or take {Figure.Text(estimate.SpreadCelsius, decimals: 0)} °C."
                : $"No {_quantity} of {name} is listed, so it is weighed as an average one.";
        }

        var deviation = ListedTemperatures.DeviationFrom(nearest, _used.ClearPointCelsius);
        var form = nearest.Form is null ? "" : $" ({nearest.Form})";
        var place = deviation switch
        {
            0 => "agrees with the listed",
            > 0 => $"is {Figure.Degrees(deviation)} °C above the listed",
            _ => $"is {Figure.Degrees(-deviation)} °C below the listed",
        };
        return $"{_quantity}: the reading, {_read} °C, {place} {nearest.Words}{form} of {name}.";
    }

    protected override IReadOnlyList<string> SourcesOf(int parent) => _listed.SourcesOf(parent);
}

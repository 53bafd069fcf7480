using System.Buffers;
using System.Runtime.CompilerServices;
using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking;

/// <summary>All listed values of one quantity, by parent: one derivative kind, the boiling or the melting point.</summary>
/// <remarks>
/// Built once a table version; thread safe. For weighing, values lie side by side in the order of their parents, and what depends on the
/// listed temperature and its quality only is worked out once for all that share them: of printed degrees there are some thousands,
/// however many parents. That is the same sum of the same numbers, so no digit depends on it.
/// </remarks>
public sealed class ListedTemperatures
{
    /// <summary>A value that two independent sources agree on counts as two.</summary>
    private const int CrossCheckedWorth = 2;

    /// <summary>Values nearer than this are one. Units: °C. As for "cross-checked" in the table.</summary>
    private const double AgreementCelsius = 3;

    private readonly ListedTemperature[][] _byParent;
    private readonly Func<int, TemperatureEstimate?> _estimateOf;
    private readonly bool[] _canHave;

    // Ranges in words, once they were asked for: few of a large table ever are.
    private readonly string?[] _said;
    private readonly ScatterSettings _scatter;
    private readonly double _kindFactor;
    private readonly double _relativeCelsius;
    private readonly double _evenShare;

    // Parents with values, where the values of each begin, and the chance that each shows another; then the values.
    private readonly int[] _listed;
    private readonly int[] _first;
    private readonly double[] _elsewhere;
    private readonly double[] _weights;
    private readonly int[] _alike;
    private readonly StudentColumn _far;
    private readonly int[] _anywhere;

    // One value of each temperature and quality, and one of each range.
    private readonly ListedTemperature[] _distinct;
    private readonly ListedTemperature[] _ranges;

    // Parents without values: by an estimate, by one with a bound, by nothing at all, and those that cannot show the quantity.
    private readonly int[] _estimated;
    private readonly StudentColumn _own;
    private readonly StudentColumn _relatives;
    private readonly (int Parent, TemperatureEstimate Estimate)[] _bounded;
    private readonly int[] _unknown;
    private readonly int[] _cannot;

    /// <summary>Takes the values.</summary>
    /// <param name="byParent">Shape: one list a parent in snapshot order; an empty list means nothing is listed.</param>
    /// <param name="estimateOf">What else foretells the temperature of a parent. Missing: null, nothing does.</param>
    /// <param name="canHave">Whether the parent can show the quantity at all, in the same order.</param>
    /// <param name="scatter">Scatter of a reading about a listed value.</param>
    /// <param name="kindFactor">Factor on the core scatter.</param>
    /// <param name="relativeCelsius">Spread of an unlisted relative. Units: °C.</param>
    /// <param name="evenShare">Share of relatives like nothing listed.</param>
    public ListedTemperatures(
        ListedTemperature[][] byParent,
        Func<int, TemperatureEstimate?> estimateOf,
        bool[] canHave,
        ScatterSettings scatter,
        double kindFactor,
        double relativeCelsius,
        double evenShare)
    {
        _byParent = byParent;
        _estimateOf = estimateOf;
        _canHave = canHave;
        _said = new string?[byParent.Length];
        _scatter = scatter;
        _kindFactor = kindFactor;
        _relativeCelsius = relativeCelsius;
        _evenShare = evenShare;

        var parents = Enumerable.Range(0, byParent.Length);
        _listed = [.. parents.Where(parent => byParent[parent].Length > 0)];
        _elsewhere = [.. _listed.Select(parent => ElsewhereShare(byParent[parent], scatter.ElsewhereWorth))];
        _first = new int[_listed.Length + 1];
        for (var i = 0; i < _listed.Length; i++)
        {
            _first[i + 1] = _first[i] + byParent[_listed[i]].Length;
        }

        var values = _listed.SelectMany(parent => byParent[parent].Select(value => (Value: value, Estimate: EstimateOf(parent)))).ToList();
        _weights = [.. values.Select(of => of.Value.Weight)];
        _far = new StudentColumn(values.Select(of => (of.Value.HighCelsius, of.Estimate?.ScaleCelsius ?? 1)));
        _anywhere = [.. Enumerable.Range(0, values.Count).Where(i => values[i].Estimate is null)];
        var places = new Dictionary<(double, int), int>();
        _alike = [.. values.Select(of => places.TryGetValue(Key(of.Value), out var place) ? place : places[Key(of.Value)] = places.Count)];
        _distinct = [.. values.Select(of => of.Value).DistinctBy(Key)];
        _ranges = [.. values.Select(of => of.Value).DistinctBy(value => (value.LowCelsius, value.HighCelsius))];

        var unlisted = parents.Where(parent => byParent[parent].Length == 0).ToLookup(parent => canHave[parent]);
        var estimates = unlisted[true].Select(parent => (Parent: parent, Estimate: EstimateOf(parent))).ToList();
        _cannot = [.. unlisted[false]];
        _unknown = [.. estimates.Where(of => of.Estimate is null).Select(of => of.Parent)];
        _bounded = [.. estimates.Where(of => of.Estimate?.AtLeastCelsius is not null).Select(of => (of.Parent, of.Estimate!.Value))];
        var free = estimates.Where(of => of.Estimate is { AtLeastCelsius: null }).Select(of => (of.Parent, Estimate: of.Estimate!.Value)).ToList();
        _estimated = [.. free.Select(of => of.Parent)];
        _own = new StudentColumn(free.Select(of => (of.Estimate.MeanCelsius, of.Estimate.ScaleCelsius)));
        _relatives = new StudentColumn(free.Select(of => (of.Estimate.MeanCelsius, of.Estimate.ReadWithin(relativeCelsius).ScaleCelsius)));

        static (double, int) Key(ListedTemperature value) => (value.HighCelsius, ReadingNoise.QualityOf(value));
    }

    /// <summary>Number of parents.</summary>
    public int ParentCount => _byParent.Length;

    /// <summary>Scatter of a reading about a listed value.</summary>
    public ScatterSettings Scatter => _scatter;

    /// <summary>The values listed for a parent. Shape: may be empty.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public IReadOnlyList<ListedTemperature> Of(int parent) => _byParent[parent];

    /// <summary>Keys of the sources of a parent's values. Shape: no repeats; may be empty.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public IReadOnlyList<string> SourcesOf(int parent)
    {
        var sources = new List<string>(_byParent[parent].Length);
        foreach (var value in _byParent[parent])
        {
            if (!sources.Contains(value.SourceKey))
            {
                sources.Add(value.SourceKey);
            }
        }

        return sources;
    }

    /// <summary>A parent's values from the lowest to the highest, in words. Missing: null, nothing is listed.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public string? RangeOf(int parent) => _said[parent] ??= _byParent[parent] is { Length: > 0 } values
        ? Figure.Range(values.Min(value => value.LowCelsius), values.Max(value => value.HighCelsius))
        : null;

    /// <summary>Whether a parent can show the quantity at all.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public bool CanHave(int parent) => _canHave[parent];

    /// <summary>What foretells a parent's temperature apart from its listed values. Missing: null, nothing does.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public TemperatureEstimate? EstimateOf(int parent) => _estimateOf(parent) is { } estimate
        ? _byParent[parent].Length > 0 ? estimate : estimate with { ScaleCelsius = estimate.ScaleCelsius * _scatter.UnlistedFactor }
        : null;

    /// <summary>Where a parent is expected, by its listed values or, with none, by its estimate. Units: °C. Missing: null, nothing tells.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    internal double? MeanOf(int parent) => _byParent[parent] is { Length: > 0 } values
        ? values.Sum(value => value.Weight * value.HighCelsius)
        : EstimateOf(parent)?.MeanCelsius;

    /// <summary>Density of a corrected clear point for each parent and for a relative of each.</summary>
    /// <remarks>
    /// A parent shows one of its listed values or, the less likely the more are listed, another temperature, as far from them
    /// as an estimate is from the truth: about the values and not about the estimate, so that a reading nearer to the one
    /// value listed never counts less. Where none is listed the estimate stands in, so a missing value is no alibi.
    /// </remarks>
    /// <param name="clearPointCelsius">Corrected clear point. Units: °C.</param>
    /// <param name="error">How the reading may err.</param>
    /// <param name="density">Filled with the density for the parent itself. Units: 1/°C. Shape: one a parent.</param>
    /// <param name="relative">Filled with the density for an unlisted relative of it. Units: 1/°C. Shape: one a parent.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void Weigh(double clearPointCelsius, ReadingError error, Span<double> density, Span<double> relative)
    {
        var noise = new ReadingNoise(_scatter, _kindFactor, error);
        var alike = ArrayPool<(double, double)>.Shared.Rent(_distinct.Length);
        for (var i = 0; i < _distinct.Length; i++)
        {
            var deviation = clearPointCelsius - _distinct[i].HighCelsius;
            alike[i] = (noise.At(deviation, _distinct[i]), NormalDensity.At(deviation, _relativeCelsius));
        }

        var rest = ArrayPool<double>.Shared.Rent(Math.Max(_weights.Length, 2 * _estimated.Length));

        var background = WeighListed(clearPointCelsius, error, noise.Even, alike, rest.AsSpan(0, _weights.Length), density, relative);
        WeighEstimated(clearPointCelsius, error, noise.Even, rest.AsSpan(0, 2 * _estimated.Length), density, relative);
        ArrayPool<(double, double)>.Shared.Return(alike);
        ArrayPool<double>.Shared.Return(rest);

        // Where not even an estimate can be made, a parent may melt wherever the kind melts.
        background = _listed.Length > 0 ? background / _listed.Length : noise.Even;
        foreach (var parent in _unknown)
        {
            density[parent] = relative[parent] = background;
        }

        foreach (var parent in _cannot)
        {
            density[parent] = relative[parent] = _scatter.GrossShare * noise.Even;
        }
    }

    /// <summary>Weighs parents with values.</summary>
    /// <returns>The densities for relatives of all of them added up.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private double WeighListed(
        double clearPointCelsius,
        ReadingError error,
        double even,
        ReadOnlySpan<(double Near, double Around)> alike,
        Span<double> far,
        Span<double> density,
        Span<double> relative)
    {
        _far.DensitiesAt(clearPointCelsius, error.ReadingCelsius, far);
        foreach (var value in _anywhere)
        {
            far[value] = even;
        }

        var background = 0.0;
        for (var i = 0; i < _listed.Length; i++)
        {
            double own = 0, spread = 0, elsewhere = 0;
            for (var value = _first[i]; value < _first[i + 1]; value++)
            {
                var weight = _weights[value];
                var (near, around) = alike[_alike[value]];
                elsewhere += weight * far[value];
                own += weight * near;
                spread += weight * around;
            }

            density[_listed[i]] = own + (_elsewhere[i] * (WithEven(elsewhere, _scatter.GrossShare, even) - own));
            background += relative[_listed[i]] = WithEven(spread, _evenShare, even);
        }

        return background;
    }

    /// <summary>Weighs parents by their estimates.</summary>
    private void WeighEstimated(
        double clearPointCelsius, ReadingError error, double even, Span<double> lent, Span<double> density, Span<double> relative)
    {
        var own = lent[.._estimated.Length];
        var distant = lent[_estimated.Length..];
        _own.DensitiesAt(clearPointCelsius, error.ReadingCelsius, own);
        _relatives.DensitiesAt(clearPointCelsius, 0, distant);
        for (var i = 0; i < _estimated.Length; i++)
        {
            density[_estimated[i]] = WithEven(own[i], _scatter.GrossShare, even);
            relative[_estimated[i]] = WithEven(distant[i], _evenShare, even);
        }

        foreach (var (parent, estimate) in _bounded)
        {
            density[parent] = WithEven(estimate.ReadWithin(error.ReadingCelsius).DensityAt(clearPointCelsius), _scatter.GrossShare, even);
            relative[parent] = WithEven(estimate.ReadWithin(_relativeCelsius).DensityAt(clearPointCelsius), _evenShare, even);
        }
    }

    /// <summary>How readings of this quantity scatter about listed values.</summary>
    /// <param name="error">How the reading may err.</param>
    internal ReadingNoise NoiseOf(ReadingError error) => new(_scatter, _kindFactor, error);

    /// <summary>One parent as it would be weighed if other values were listed for it.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    /// <param name="values">The values. Shape: at least one, their weights sum to 1, in order of their temperature.</param>
    /// <param name="error">How the reading may err.</param>
    /// <param name="noise">What <see cref="NoiseOf"/> makes of it.</param>
    internal OneListed Of(int parent, ListedTemperature[] values, ReadingError error, ReadingNoise noise) => new(
        values, ElsewhereShare(values, _scatter.ElsewhereWorth), EstimateOf(parent)?.ReadWithin(error.ReadingCelsius), noise, _scatter.GrossShare);

    /// <summary>
    /// The chance that none of the values is the one shown: by the predictive rule of a Dirichlet process, whose number is
    /// the smaller the more the values agree with one another.
    /// </summary>
    private static double ElsewhereShare(ListedTemperature[] values, double worth)
    {
        if (values.Length == 0)
        {
            return 1;
        }

        // Values are in order of their temperature.
        var listed = values.Sum(value => value.Verification == Verification.CrossChecked ? CrossCheckedWorth : 1);
        var different = 1 + values.Skip(1).Zip(values).Count(pair => pair.First.HighCelsius - pair.Second.HighCelsius > AgreementCelsius);
        var scaled = worth * different / listed;
        return scaled / (scaled + listed);
    }

    internal static double WithEven(double density, double share, double even) => ((1 - share) * density) + (share * even);

    /// <summary>Mean of something over what a parent may show; one of which nothing is known has the mean of the others.</summary>
    /// <param name="of">What each listed value tells.</param>
    /// <param name="ofEstimate">What an estimate tells, where nothing is listed.</param>
    /// <param name="ifNone">What to take where nothing is known of any.</param>
    /// <returns>Shape: one a parent.</returns>
    public double[] Averages(
        Func<ListedTemperature, double> of, Func<TemperatureEstimate, double> ofEstimate, double ifNone)
    {
        var known = _byParent
            .Select((values, parent) => values.Length > 0 ? values.Sum(value => value.Weight * of(value))
                : EstimateOf(parent) is { } estimate ? ofEstimate(estimate)
                : (double?)null)
            .ToArray();
        var mean = known.Average() ?? ifNone;
        return [.. known.Select(average => average ?? mean)];
    }

    /// <summary>The listed value nearest to a range read.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    /// <param name="clearPointCelsius">Corrected clear point. Units: °C.</param>
    /// <returns>The nearest value, the first listed on a tie. Missing: null, nothing is listed.</returns>
    public ListedTemperature? Nearest(int parent, double clearPointCelsius)
    {
        ListedTemperature? nearest = null;
        var least = double.PositiveInfinity;
        foreach (var value in _byParent[parent])
        {
            var away = Math.Abs(DeviationFrom(value, clearPointCelsius));
            if (away < least)
            {
                (nearest, least) = (value, away);
            }
        }

        return nearest;
    }

    /// <summary>How far a clear point is from the nearest value listed for any parent.</summary>
    /// <param name="clearPointCelsius">Corrected clear point. Units: °C.</param>
    /// <returns>Units: °C. Bounds: 0 up; infinite where nothing is listed.</returns>
    public double DistanceCelsius(double clearPointCelsius)
    {
        var least = double.PositiveInfinity;
        foreach (var value in _ranges)
        {
            least = Math.Min(least, Math.Abs(DeviationFrom(value, clearPointCelsius)));
        }

        return least;
    }

    /// <summary>Clear point less the nearest end of a listed range; 0 inside it.</summary>
    /// <param name="value">The listed value.</param>
    /// <param name="clearPointCelsius">Corrected clear point. Units: °C.</param>
    /// <returns>Units: °C, a difference.</returns>
    public static double DeviationFrom(ListedTemperature value, double clearPointCelsius)
    {
        ArgumentNullException.ThrowIfNull(value);
        return clearPointCelsius > value.HighCelsius ? clearPointCelsius - value.HighCelsius
            : clearPointCelsius < value.LowCelsius ? clearPointCelsius - value.LowCelsius
            : 0;
    }
}

/// <summary>A parent with values listed, ready to be weighed at many readings.</summary>
/// <param name="values">The values.</param>
/// <param name="elsewhereShare">The chance that none of them is the one shown.</param>
/// <param name="far">How far from them it may be then. Missing: null, anywhere.</param>
/// <param name="noise">How a reading scatters about them.</param>
/// <param name="grossShare">Share of gross errors.</param>
internal sealed class OneListed(
    ListedTemperature[] values, double elsewhereShare, TemperatureEstimate? far, ReadingNoise noise, double grossShare)
{
    /// <summary>Density of a reading. Units: 1/°C.</summary>
    /// <param name="celsius">Corrected clear point. Units: °C.</param>
    public double DensityAt(double celsius)
    {
        var (own, elsewhere) = (0.0, 0.0);
        foreach (var value in values)
        {
            elsewhere += value.Weight * (far?.UnboundedDensityAt(celsius, value.HighCelsius) ?? noise.Even);
            own += value.Weight * noise.At(celsius - value.HighCelsius, value);
        }

        return own + (elsewhereShare * (ListedTemperatures.WithEven(elsewhere, grossShare, noise.Even) - own));
    }
}

/// <summary>One listed temperature range of one parent, with its weight among that parent's values.</summary>
/// <param name="LowCelsius">Lower end as listed. Units: °C.</param>
/// <param name="HighCelsius">Upper end as listed, taken as the clear point. Units: °C.</param>
/// <param name="Decomposes">Whether it is listed as decomposing.</param>
/// <param name="Verification">How far it was followed back.</param>
/// <param name="Form">Form the value is of. Missing: null, unstated.</param>
/// <param name="SourceKey">The source that lists it.</param>
/// <param name="Weight">Weight among the parent's values of the quantity; they sum to 1.</param>
public sealed record ListedTemperature(
    double LowCelsius,
    double HighCelsius,
    bool Decomposes,
    Verification Verification,
    string? Form,
    string SourceKey,
    double Weight)
{
    /// <summary>The range in words.</summary>
    public string Words => Figure.Range(LowCelsius, HighCelsius);
}

using System.Runtime.CompilerServices;
using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking;

/// <summary>All listed values of one quantity, by parent: one derivative kind, the boiling or the melting point.</summary>
/// <remarks>Built once a table version; thread safe.</remarks>
public sealed class ListedTemperatures
{
    /// <summary>A value that two independent sources agree on counts as two.</summary>
    private const int CrossCheckedWorth = 2;

    /// <summary>Values nearer than this are one. Units: °C. As for "cross-checked" in the table.</summary>
    private const double AgreementCelsius = 3;

    private readonly ListedTemperature[][] _byParent;
    private readonly TemperatureEstimate?[] _estimates;
    private readonly TemperatureEstimate?[] _relatives;
    private readonly string[][] _sources;
    private readonly string?[] _ranges;
    private readonly double[] _elsewhere;
    private readonly bool[] _canHave;
    private readonly ScatterSettings _scatter;
    private readonly double _kindFactor;
    private readonly double _relativeCelsius;
    private readonly double _evenShare;
    private readonly int _listedParents;

    /// <summary>Takes the values.</summary>
    /// <param name="byParent">Shape: one list a parent in snapshot order; an empty list means nothing is listed.</param>
    /// <param name="estimates">What else foretells the temperature, in the same order. Missing: null, nothing does.</param>
    /// <param name="canHave">Whether the parent can show the quantity at all, in the same order.</param>
    /// <param name="scatter">Scatter of a reading about a listed value.</param>
    /// <param name="kindFactor">Factor on the core scatter.</param>
    /// <param name="relativeCelsius">Spread of an unlisted relative. Units: °C.</param>
    /// <param name="evenShare">Share of relatives like nothing listed.</param>
    public ListedTemperatures(
        ListedTemperature[][] byParent,
        TemperatureEstimate?[] estimates,
        bool[] canHave,
        ScatterSettings scatter,
        double kindFactor,
        double relativeCelsius,
        double evenShare)
    {
        _byParent = byParent;
        _estimates = [.. estimates.Select((estimate, parent) => byParent[parent].Length == 0 && estimate is { } unlisted
            ? unlisted with { ScaleCelsius = unlisted.ScaleCelsius * scatter.UnlistedFactor }
            : estimate)];
        _relatives = [.. _estimates.Select(estimate => estimate?.ReadWithin(relativeCelsius))];
        _sources = [.. byParent.Select(values => values.Select(value => value.SourceKey).Distinct(StringComparer.Ordinal).ToArray())];
        _ranges = [.. byParent.Select(values => values.Length == 0
            ? null
            : Figure.Range(values.Min(value => value.LowCelsius), values.Max(value => value.HighCelsius)))];
        _elsewhere = [.. byParent.Select(values => ElsewhereShare(values, scatter.ElsewhereWorth))];
        _canHave = canHave;
        _scatter = scatter;
        _kindFactor = kindFactor;
        _relativeCelsius = relativeCelsius;
        _evenShare = evenShare;
        _listedParents = byParent.Count(values => values.Length > 0);
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
    public IReadOnlyList<string> SourcesOf(int parent) => _sources[parent];

    /// <summary>A parent's values from the lowest to the highest, in words. Missing: null, nothing is listed.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public string? RangeOf(int parent) => _ranges[parent];

    /// <summary>Whether a parent can show the quantity at all.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public bool CanHave(int parent) => _canHave[parent];

    /// <summary>What foretells a parent's temperature apart from its listed values. Missing: null, nothing does.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    public TemperatureEstimate? EstimateOf(int parent) => _estimates[parent];

    /// <summary>Where a parent is expected, by its listed values or, with none, by its estimate. Units: °C. Missing: null, nothing tells.</summary>
    /// <param name="parent">Index of the parent in the snapshot.</param>
    internal double? MeanOf(int parent) => _byParent[parent] is { Length: > 0 } values
        ? values.Sum(value => value.Weight * value.HighCelsius)
        : _estimates[parent]?.MeanCelsius;

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
        var background = 0.0;
        for (var parent = 0; parent < _byParent.Length; parent++)
        {
            var values = _byParent[parent];
            double own = 0, spread = 0, elsewhere = 0;
            var far = values.Length > 0 ? _estimates[parent]?.ReadWithin(error.ReadingCelsius) : null;
            foreach (var value in values)
            {
                elsewhere += value.Weight * (far?.UnboundedDensityAt(clearPointCelsius, value.HighCelsius) ?? noise.Even);
                own += value.Weight * noise.At(clearPointCelsius - value.HighCelsius, value);
                spread += value.Weight * NormalDensity.At(clearPointCelsius - value.HighCelsius, _relativeCelsius);
            }

            density[parent] = own + (values.Length > 0
                ? _elsewhere[parent] * (WithEven(elsewhere, _scatter.GrossShare, noise.Even) - own)
                : 0);
            relative[parent] = WithEven(spread, _evenShare, noise.Even);
            background += values.Length > 0 ? relative[parent] : 0;
        }

        // Where not even an estimate can be made, a parent may melt wherever the kind melts.
        background = _listedParents > 0 ? background / _listedParents : noise.Even;
        for (var parent = 0; parent < _byParent.Length; parent++)
        {
            if (!_canHave[parent])
            {
                density[parent] = relative[parent] = _scatter.GrossShare * noise.Even;
                continue;
            }

            if (_byParent[parent].Length == 0)
            {
                density[parent] = _estimates[parent] is { } estimate
                    ? WithEven(estimate.ReadWithin(error.ReadingCelsius).DensityAt(clearPointCelsius), _scatter.GrossShare, noise.Even)
                    : background;
                relative[parent] = _relatives[parent] is { } distant
                    ? WithEven(distant.DensityAt(clearPointCelsius), _evenShare, noise.Even)
                    : background;
            }
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
        values, ElsewhereShare(values, _scatter.ElsewhereWorth), _estimates[parent]?.ReadWithin(error.ReadingCelsius), noise, _scatter.GrossShare);

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
                : _estimates[parent] is { } estimate ? ofEstimate(estimate)
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
        foreach (var values in _byParent)
        {
            foreach (var value in values)
            {
                least = Math.Min(least, Math.Abs(DeviationFrom(value, clearPointCelsius)));
            }
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
    public string Words { get; } = Figure.Range(LowCelsius, HighCelsius);
}

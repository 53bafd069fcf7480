using System.Numerics;
using Derivid.Core.Observations;

namespace Derivid.Core.Ranking.Forecasts;

/// <summary>For one quantity, the readings each parent is expected to give: what measuring it would tell.</summary>
/// <remarks>
/// Readings are gathered into bins of <see cref="BinCelsius"/> over the working range, for a derivative with two bins more:
/// an oil and nothing, by the very rates that such an outcome is weighed with. Readings below the lowest that a bench takes
/// are one bin, since a liquid is only seen to be liquid. Expected information is the mutual information of parent and
/// bin; coarse bins lose a little of it and never add any. That crystals came at all is counted here, though a range is
/// weighed given the crystals: what that adds is small beside the range. Built once a table version; thread safe.
/// </remarks>
public sealed class TemperatureForecast
{
    /// <summary>Width of a bin. Units: °C. Chosen: below the core scatter of a reading.</summary>
    public const double BinCelsius = 2;

    /// <summary>Width of the reading forecast: a good range. Units: °C. Chosen.</summary>
    public const double ExpectedSpanCelsius = 1.5;

    private readonly double[] _rows;
    private readonly double[] _entropies;
    private readonly int _bins;
    private readonly int _background;

    private TemperatureForecast(double[] rows, double[] entropies, int bins)
    {
        _rows = rows;
        _entropies = entropies;
        _bins = bins;
        _background = entropies.Length - 1;
    }

    /// <summary>Works out the forecasts.</summary>
    /// <param name="listed">The values listed.</param>
    /// <param name="settings">The model's numbers.</param>
    /// <param name="lowestTakenCelsius">Lowest reading a bench takes. Units: °C.</param>
    /// <param name="precipitates">What comes with a derivative's reagent. Missing: null, always something to read.</param>
    internal static TemperatureForecast Build(
        ListedTemperatures listed,
        ModelSettings settings,
        double lowestTakenCelsius = double.NegativeInfinity,
        PrecipitateRates? precipitates = null)
    {
        var scatter = listed.Scatter;
        var temperatureBins = (int)Math.Ceiling((scatter.HighestCelsius - scatter.LowestCelsius) / BinCelsius);
        var bins = temperatureBins + (precipitates is null ? 0 : 2);
        var parents = listed.ParentCount;
        var rows = new double[(parents + 1) * bins];
        var error = new ReadingError(
            settings.Care.ReadingCelsius(scatter.ReadingCelsius, isCalibrated: false, ExpectedSpanCelsius),
            settings.Depression.PurityOf(ExpectedSpanCelsius, Preparation.Recrystallised));
        var (density, relative) = (new double[parents], new double[parents]);
        for (var bin = 0; bin < temperatureBins; bin++)
        {
            var centre = scatter.LowestCelsius + ((bin + 0.5) * BinCelsius);
            listed.Weigh(centre, error, density, relative);
            var target = centre < lowestTakenCelsius ? 0 : bin;
            for (var parent = 0; parent < parents; parent++)
            {
                rows[(parent * bins) + target] += density[parent];
            }

            // The last row is "none of these": a relative of any parent.
            rows[(parents * bins) + target] += relative.Average();
        }

        var entropies = new double[parents + 1];
        for (var row = 0; row <= parents; row++)
        {
            var cells = rows.AsSpan(row * bins, bins);
            Normalise(cells[..temperatureBins]);
            if (precipitates is not null)
            {
                AddOutcomes(cells, temperatureBins, outcome => row < parents
                    ? precipitates.Of(outcome)[row]
                    : precipitates.OfRelatives(outcome, settings.OpenSet.NotCarbonylShare));
            }

            entropies[row] = Entropy(cells);
        }

        return new TemperatureForecast(rows, entropies, bins);
    }

    /// <summary>Expected fall of entropy on taking the reading.</summary>
    /// <param name="weights">Probability of each parent, in snapshot order.</param>
    /// <param name="noneWeight">Probability of "none of these". The weights sum to 1 with it.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double ExpectedInformation(ReadOnlySpan<double> weights, double noneWeight)
    {
        Span<double> mixture = stackalloc double[_bins];
        mixture.Clear();
        var conditional = 0.0;
        for (var parent = 0; parent < weights.Length; parent++)
        {
            // Below this weight a parent cannot move the answer's third digit.
            if (weights[parent] > 1e-6)
            {
                AddScaled(mixture, parent, weights[parent]);
                conditional += weights[parent] * _entropies[parent];
            }
        }

        AddScaled(mixture, _background, noneWeight);
        conditional += noneWeight * _entropies[_background];
        return Math.Max(0, Entropy(mixture) - conditional);
    }

    /// <summary>Shares a row out among melting crystals, an oil and nothing.</summary>
    private static void AddOutcomes(Span<double> cells, int temperatureBins, Func<Precipitate, double> probability)
    {
        var crystals = probability(Precipitate.Crystals);
        for (var i = 0; i < temperatureBins; i++)
        {
            cells[i] *= crystals;
        }

        cells[temperatureBins] = probability(Precipitate.Oil);
        cells[temperatureBins + 1] = probability(Precipitate.None);
    }

    private static void Normalise(Span<double> cells)
    {
        var total = 0.0;
        foreach (var cell in cells)
        {
            total += cell;
        }

        for (var i = 0; i < cells.Length; i++)
        {
            cells[i] /= total;
        }
    }

    private static double Entropy(ReadOnlySpan<double> cells)
    {
        var entropy = 0.0;
        foreach (var cell in cells)
        {
            if (cell > 0)
            {
                entropy -= cell * Math.Log(cell);
            }
        }

        return entropy;
    }

    private void AddScaled(Span<double> mixture, int row, double weight)
    {
        var cells = _rows.AsSpan(row * _bins, _bins);
        var i = 0;
        var scale = new Vector<double>(weight);
        for (; i <= _bins - Vector<double>.Count; i += Vector<double>.Count)
        {
            var sum = new Vector<double>(mixture[i..]) + (scale * new Vector<double>(cells[i..]));
            sum.CopyTo(mixture[i..]);
        }

        for (; i < _bins; i++)
        {
            mixture[i] += weight * cells[i];
        }
    }
}

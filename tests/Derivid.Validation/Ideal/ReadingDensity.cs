using Derivid.Core.Observations;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Ideal;

/// <summary>
/// Density of a melting reading under the bench's own physics: clear point less listed value, for each width read, kind of
/// preparation and band of temperature.
/// </summary>
/// <remarks>
/// Worked out by quadrature over impurity, entropy of fusion, heating rate, what counts as first liquid and lag, then
/// convolved with the scatter of listed values, the reading error, the rounding and the misread tens digit. The offset of
/// the thermometer is left to the caller, since all readings of a student share it. Thread safety: immutable.
/// </remarks>
public sealed class ReadingDensity
{
    private const double Step = 0.25;
    private const double Reach = 120;
    private const double BandCelsius = 25;
    private const double HighestBand = 400;
    private const double WidthStep = 0.1;

    private readonly BenchParameters _bench;
    private readonly int _widths;
    private readonly double[][] _density;
    private readonly double[] _widthShare;

    /// <summary>Works the tables out.</summary>
    /// <param name="bench">Figures of the bench.</param>
    /// <param name="entropies">Entropies of fusion. Units: J/(mol·K).</param>
    /// <param name="scatter">Scatter of the listed values.</param>
    /// <param name="decompositionCelsius">Extra normal scatter of decomposing ones. Units: °C.</param>
    public ReadingDensity(
        BenchParameters bench, double[] entropies, LiteratureScatter scatter, double decompositionCelsius)
    {
        _bench = bench;
        _widths = (int)Math.Round(bench.WidestCelsius / bench.RoundingCelsius) + 1;
        var bands = (int)(HighestBand / BandCelsius) + 1;
        var roughReading = Math.Sqrt(
            (bench.ReadingCelsius * bench.ReadingCelsius) + (decompositionCelsius * decompositionCelsius));
        double[][] plain = [Kernel(scatter, 1, bench.ReadingCelsius), Kernel(scatter, bench.HotScatterFactor, bench.ReadingCelsius)];
        double[][] rough = [Kernel(scatter, 1, roughReading), Kernel(scatter, bench.HotScatterFactor, roughReading)];
        _density = new double[2 * 2 * bands * _widths][];
        _widthShare = new double[2 * bands * _widths];
        Parallel.For(0, 2 * bands, cell =>
        {
            var (crude, band) = (cell / bands, cell % bands);
            var hot = band * BandCelsius >= bench.HotFromCelsius ? 1 : 0;
            var behaviour = Behaviour((band + 0.5) * BandCelsius, crude == 1, entropies);
            for (var width = 0; width < _widths; width++)
            {
                var index = (cell * _widths) + width;
                _widthShare[index] = behaviour[width].Sum();
                _density[index] = Convolve(behaviour[width], plain[hot]);
                _density[(2 * bands * _widths) + index] = Convolve(behaviour[width], rough[hot]);
            }
        });
    }

    /// <summary>The density of a reading, gross mistakes included.</summary>
    /// <param name="clear">Clear point read, less the thermometer's offset. Units: °C.</param>
    /// <param name="asRead">Clear point read. Units: °C.</param>
    /// <param name="width">Width read. Units: °C.</param>
    /// <param name="preparation">What was done to the crystals.</param>
    /// <param name="listed">The listed value. Units: °C.</param>
    /// <param name="decomposes">Whether it is listed as decomposing.</param>
    /// <returns>Units: 1/°C, times the probability of the width.</returns>
    public double At(double clear, double asRead, double width, Preparation preparation, double listed, bool decomposes)
    {
        var index = Index(width, preparation, listed);
        var table = _density[index + (decomposes ? _widthShare.Length : 0)];
        var place = (clear - listed + Reach) / Step;
        var cell = (int)Math.Floor(place);
        var density = cell >= 0 && cell < table.Length - 1
            ? double.Lerp(table[cell], table[cell + 1], place - cell)
            : 0;
        return density + (_widthShare[index] * Gross(asRead));
    }

    /// <summary>Probability of a width.</summary>
    public double WidthShare(double width, Preparation preparation, double listed) =>
        _widthShare[Index(width, preparation, listed)];

    /// <summary>Density of a reading that is anything at all. Units: 1/°C.</summary>
    public double Gross(double asRead) =>
        asRead < _bench.GrossMelting.Least || asRead > _bench.GrossMelting.Most
            ? 1e-12
            : _bench.GrossShare * (1 - _bench.TensShare) / (_bench.GrossMelting.Most - _bench.GrossMelting.Least);

    private int Index(double width, Preparation preparation, double listed)
    {
        var bands = (int)(HighestBand / BandCelsius) + 1;
        // Bands are cut below and above 200 °C, where the scatter of listed values changes.
        var band = Math.Clamp((int)Math.Floor(listed / BandCelsius), 0, bands - 1);
        var crude = preparation == Preparation.Crude ? 1 : 0;
        var bin = Math.Clamp((int)Math.Round(width / _bench.RoundingCelsius), 0, _widths - 1);
        return (((crude * bands) + band) * _widths) + bin;
    }

    /// <summary>Probability of each shift, by width read. Shape: one table of shifts a width.</summary>
    private double[][] Behaviour(double pure, bool isCrude, double[] entropies)
    {
        const int rates = 6, shares = 6, lags = 4;
        var cells = (int)(2 * Reach / Step) + 1;
        var fine = new double[(int)(60 / WidthStep)][];
        var median = isCrude ? _bench.CrudeImpurity : _bench.RecrystallisedImpurity;
        foreach (var (place, share) in NormalNodes.All)
        {
            var impurity = Math.Min(_bench.MostImpurity, median * Math.Exp(_bench.ImpurityLogSpread * place));
            var weight = share / (rates * shares * lags * entropies.Length);
            foreach (var entropy in entropies)
            {
                for (var node = 0; node < rates * shares * lags; node++)
                {
                    var rate = _bench.Rate.Least
                        * Math.Pow(_bench.Rate.Most / _bench.Rate.Least, ((node % rates) + 0.5) / rates);
                    var visible = Between(_bench.VisibleShare, node / rates % shares, shares);
                    var lag = Between(_bench.LagMinutes, node / (rates * shares), lags);
                    var behaviour = MeltingBehaviour.Of(pure, entropy, impurity, visible, rate, lag, _bench);
                    var row = Math.Min((int)(behaviour.WidthCelsius / WidthStep), fine.Length - 1);
                    Split(fine[row] ??= new double[cells], (behaviour.ShiftCelsius + Reach) / Step, weight);
                }
            }
        }

        return WithWet(ReadWidths(fine, cells));
    }

    /// <summary>Mixes in the share of wet crystals, whose shift and width have nothing to do with impurity.</summary>
    private double[][] WithWet(double[][] read)
    {
        if (_bench.WetShare == 0)
        {
            return read;
        }

        var spread = Math.Sqrt(
            (_bench.WetWidthCelsius.Spread * _bench.WetWidthCelsius.Spread)
            + (_bench.WidthReadingCelsius * _bench.WidthReadingCelsius));
        for (var width = 0; width < _widths; width++)
        {
            var (low, high) = WidthBin(width);
            var share = Normal.CDF(_bench.WetWidthCelsius.Mean, spread, high) - Normal.CDF(_bench.WetWidthCelsius.Mean, spread, low);
            for (var i = 0; i < read[width].Length; i++)
            {
                var wet = Step * Normal.PDF(-_bench.WetLowCelsius.Mean, _bench.WetLowCelsius.Spread, (i * Step) - Reach);
                read[width][i] = ((1 - _bench.WetShare) * read[width][i]) + (_bench.WetShare * share * wet);
            }
        }

        return read;
    }

    private (double Low, double High) WidthBin(int width) => (
        width == 0 ? double.NegativeInfinity : (width - 0.5) * _bench.RoundingCelsius,
        width == _widths - 1 ? double.PositiveInfinity : (width + 0.5) * _bench.RoundingCelsius);

    private double[][] ReadWidths(double[][] fine, int cells)
    {
        var read = new double[_widths][];
        for (var width = 0; width < _widths; width++)
        {
            read[width] = new double[cells];
            var (low, high) = WidthBin(width);
            for (var row = 0; row < fine.Length; row++)
            {
                var centre = (row + 0.5) * WidthStep;
                var share = Normal.CDF(centre, _bench.WidthReadingCelsius, high)
                    - Normal.CDF(centre, _bench.WidthReadingCelsius, low);
                if (fine[row] is { } shifts && share > 1e-9)
                {
                    for (var i = 0; i < cells; i++)
                    {
                        read[width][i] += share * shifts[i];
                    }
                }
            }
        }

        return read;
    }

    private static void Split(double[] cells, double place, double weight)
    {
        var cell = Math.Clamp((int)Math.Floor(place), 0, cells.Length - 2);
        var share = Math.Clamp(place - cell, 0, 1);
        cells[cell] += weight * (1 - share);
        cells[cell + 1] += weight * share;
    }

    /// <summary>Density of scatter, normal error and rounding together, at multiples of the step.</summary>
    private double[] Kernel(LiteratureScatter scatter, double factor, double sigma)
    {
        var half = (int)((Reach - 20) / Step);
        var kernel = new double[(2 * half) + 1];
        foreach (var (place, share) in NormalNodes.Fine)
        {
            for (var i = 0; i < kernel.Length; i++)
            {
                var centre = ((i - half) * Step) - (place * sigma);
                var rounding = _bench.RoundingCelsius / 2;
                kernel[i] += share * (scatter.Below((centre + rounding) / factor) - scatter.Below((centre - rounding) / factor))
                    / _bench.RoundingCelsius;
            }
        }

        return WithTens(kernel);
    }

    private double[] WithTens(double[] kernel)
    {
        var ten = (int)Math.Round(10 / Step);
        var tens = _bench.GrossShare * _bench.TensShare / 2;
        var mixed = new double[kernel.Length + (2 * ten)];
        for (var i = 0; i < kernel.Length; i++)
        {
            mixed[i + ten] += (1 - _bench.GrossShare) * kernel[i];
            mixed[i] += tens * kernel[i];
            mixed[i + (2 * ten)] += tens * kernel[i];
        }

        return mixed;
    }

    private static double[] Convolve(double[] shifts, double[] kernel)
    {
        var result = new double[shifts.Length];
        var half = kernel.Length / 2;
        for (var i = 0; i < shifts.Length; i++)
        {
            if (shifts[i] == 0)
            {
                continue;
            }

            var first = Math.Max(0, i - half);
            var last = Math.Min(result.Length - 1, i + half);
            for (var j = first; j <= last; j++)
            {
                result[j] += shifts[i] * kernel[j - i + half];
            }
        }

        return result;
    }

    private static double Between((double Least, double Most) span, int node, int nodes) =>
        double.Lerp(span.Least, span.Most, (node + 0.5) / nodes);
}

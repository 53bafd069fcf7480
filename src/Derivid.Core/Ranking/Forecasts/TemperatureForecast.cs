using System.Numerics.Tensors;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using Derivid.Core.Observations;

namespace Derivid.Core.Ranking.Forecasts;

/// <summary>For one quantity, the readings each parent is expected to give: what measuring it would tell.</summary>
/// <remarks>
/// Readings are gathered into bins of <see cref="BinCelsius"/> over the working range, for a derivative with two bins more:
/// an oil and nothing, by the very rates that such an outcome is weighed with. Readings below the lowest that a bench takes
/// are one bin, since a liquid is only seen to be liquid. Expected information is the mutual information of parent and
/// bin; coarse bins lose a little of it and never add any. Cells are single floats: seven digits are more than a forecast has. That crystals came at all is counted here, though a range is
/// weighed given the crystals: what that adds is small beside the range. Built once a table version; thread safe.
/// A table of up to <see cref="MostRows"/> parents has a row for each. In a larger one neighbours by temperature share the mean of their rows, so
/// that memory and work no longer grow with the table. To ask which group it is, and not which of the group, tells the less, by the chain
/// rule of mutual information; but where one of a group is more probable than the rest, the mean may be a little off either way.
/// </remarks>
public sealed class TemperatureForecast
{
    /// <summary>Width of a bin. Units: °C. Chosen: below the core scatter of a reading.</summary>
    public const double BinCelsius = 2;

    /// <summary>Width of the reading forecast: a good range. Units: °C. Chosen.</summary>
    public const double ExpectedSpanCelsius = 1.5;

    /// <summary>Rows at most, that of "none of these" not counted. Chosen: of 100,000 parents some hundred share one, within a fraction of a bin.</summary>
    public const int MostRows = 1024;

    private const int RowsAtOnce = 4;

    /// <summary>Rows are filled up with empty bins to a multiple of this, so that every vector of one is whole. Units: bins.</summary>
    private const int RowWidthOf = 8;

    private readonly ParentClasses? _shared;
    private readonly float[] _rows;
    private readonly double[] _entropies;
    private readonly int _width;

    private TemperatureForecast(
        ParentClasses? shared, float[] rows, double[] entropies, int width, int temperatureBins, (double Lowest, double LowestTaken) celsius)
    {
        _shared = shared;
        _rows = rows;
        _entropies = entropies;
        _width = width;
        TemperatureBins = temperatureBins;
        LowestCelsius = celsius.Lowest;
        FirstTaken = (int)Math.Clamp(Math.Ceiling((celsius.LowestTaken - celsius.Lowest) / BinCelsius), 0, temperatureBins);
    }

    /// <summary>How many bins are of temperatures; of a derivative two more follow: an oil, and nothing.</summary>
    public int TemperatureBins { get; }

    /// <summary>Lower edge of the first bin. Units: °C.</summary>
    public double LowestCelsius { get; }

    /// <summary>The first bin of a reading that a bench takes; what reads below is gathered in bin 0 where this isn't that.</summary>
    public int FirstTaken { get; }

    /// <summary>What taking the reading shows of "none of these". Shape: as <see cref="Outcomes"/>.</summary>
    public ReadOnlySpan<float> Background => Row(LastRow);

    private int LastRow => _entropies.Length - 1;

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
        var width = (bins + RowWidthOf - 1) / RowWidthOf * RowWidthOf;
        int[][] members = parents <= MostRows ? [.. Enumerable.Range(0, parents).Select(parent => new[] { parent })] : Neighbours(listed, precipitates);
        var shared = parents <= MostRows ? null : ParentClasses.OfMembers(members);
        var none = members.Length;
        var rows = new float[(none + 1) * width];
        var error = ExpectedError(scatter, settings);
        var (density, relative) = (new double[parents], new double[parents]);
        for (var bin = 0; bin < temperatureBins; bin++)
        {
            var centre = scatter.LowestCelsius + ((bin + 0.5) * BinCelsius);
            listed.Weigh(centre, error, density, relative);
            var target = centre < lowestTakenCelsius ? 0 : bin;
            for (var parent = 0; parent < parents; parent++)
            {
                rows[((shared?.Of[parent] ?? parent) * width) + target] += (float)density[parent];
            }

            // The last row is "none of these": a relative of any parent.
            rows[(none * width) + target] += (float)relative.Average();
        }

        var entropies = new double[none + 1];
        for (var row = 0; row <= none; row++)
        {
            var cells = rows.AsSpan(row * width, bins);
            Normalise(cells[..temperatureBins]);
            if (precipitates is not null)
            {
                AddOutcomes(cells, temperatureBins, outcome => row < none
                    ? precipitates.Mean(outcome, members[row])
                    : precipitates.OfRelatives(outcome, settings.OpenSet.NotCarbonylShare));
            }

            entropies[row] = EntropyOf(cells);
        }

        return new TemperatureForecast(shared, rows, entropies, width, temperatureBins, (scatter.LowestCelsius, lowestTakenCelsius));
    }

    /// <summary>Expected fall of entropy on taking the reading.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <returns>Units: nats. Bounds: 0 up.</returns>
    public double ExpectedInformation(ForecastWeights weights)
    {
        ArgumentNullException.ThrowIfNull(weights);
        Span<float> mixture = stackalloc float[_width];
        mixture.Clear();
        var (rows, shares) = weights.By(_shared);
        var at = 0;
        for (; at <= rows.Length - RowsAtOnce; at += RowsAtOnce)
        {
            AddFour(mixture, rows.AsSpan(at), shares.AsSpan(at));
        }

        for (; at < rows.Length; at++)
        {
            AddOne(mixture, rows[at], shares[at]);
        }

        AddOne(mixture, LastRow, weights.None);
        var conditional = weights.None * _entropies[LastRow];
        for (var i = 0; i < rows.Length; i++)
        {
            conditional += shares[i] * _entropies[rows[i]];
        }

        return Math.Max(0, EntropyOf(mixture) - conditional);
    }

    /// <summary>How a good range of recrystallised crystals errs, on a thermometer that nobody checked.</summary>
    internal static ReadingError ExpectedError(ScatterSettings scatter, ModelSettings settings) => new(
        settings.Care.ReadingCelsius(scatter.ReadingCelsius, check: null, ExpectedSpanCelsius),
        settings.Depression.PurityOf(ExpectedSpanCelsius, Preparation.Recrystallised));

    /// <summary>What taking the reading shows of one parent.</summary>
    /// <param name="parent">Its place in the snapshot.</param>
    /// <returns>Shape: probabilities, one a bin, then empty ones; they sum to 1.</returns>
    public ReadOnlySpan<float> Outcomes(int parent) => Row(_shared?.Of[parent] ?? parent);

    /// <summary>
    /// The parents of each row: neighbours by where they melt, among those that take to the reagent alike; those that can't and those with nothing
    /// listed among themselves.
    /// </summary>
    /// <returns>Shape: <see cref="MostRows"/> or fewer, one parent or more each.</returns>
    private static int[][] Neighbours(ListedTemperatures listed, PrecipitateRates? precipitates) =>
    [
        .. Enumerable.Range(0, listed.ParentCount)
            .OrderBy(listed.CanHave)
            .ThenBy(parent => listed.Of(parent).Count > 0)
            .ThenBy(parent => precipitates?.WorksOf(parent))
            .ThenBy(parent => listed.MeanOf(parent) ?? double.NegativeInfinity)
            .Chunk((listed.ParentCount + MostRows - 1) / MostRows),
    ];

    /// <summary>Shares a row out among melting crystals, an oil and nothing.</summary>
    private static void AddOutcomes(Span<float> cells, int temperatureBins, Func<Precipitate, double> probability)
    {
        var crystals = probability(Precipitate.Crystals);
        for (var i = 0; i < temperatureBins; i++)
        {
            cells[i] *= (float)crystals;
        }

        cells[temperatureBins] = (float)probability(Precipitate.Oil);
        cells[temperatureBins + 1] = (float)probability(Precipitate.None);
    }

    private static void Normalise(Span<float> cells)
    {
        var total = 0.0;
        foreach (var cell in cells)
        {
            total += cell;
        }

        for (var i = 0; i < cells.Length; i++)
        {
            cells[i] = (float)(cells[i] / total);
        }
    }

    private static double EntropyOf(ReadOnlySpan<float> cells)
    {
        Span<double> probabilities = stackalloc double[cells.Length];
        TensorPrimitives.ConvertTruncating(cells, probabilities);
        return Entropy.Of(probabilities);
    }

    private void AddOne(Span<float> mixture, int row, double weight) =>
        TensorPrimitives.MultiplyAdd(Row(row), (float)weight, mixture, mixture);

    // Several rows at once, so that the sums stay in the processor; in the order of one by one, and so the same on any.
    private void AddFour(Span<float> mixture, ReadOnlySpan<int> rows, ReadOnlySpan<double> weights)
    {
        ref var sums = ref MemoryMarshal.GetReference(mixture);
        ref readonly var first = ref MemoryMarshal.GetReference(Row(rows[0]));
        ref readonly var second = ref MemoryMarshal.GetReference(Row(rows[1]));
        ref readonly var third = ref MemoryMarshal.GetReference(Row(rows[2]));
        ref readonly var fourth = ref MemoryMarshal.GetReference(Row(rows[3]));
        var (one, two, three, four) = ((float)weights[0], (float)weights[1], (float)weights[2], (float)weights[3]);
        for (nuint i = 0; i < (nuint)mixture.Length; i += (nuint)Vector256<float>.Count)
        {
            var sum = Vector256.LoadUnsafe(in sums, i)
                + (one * Vector256.LoadUnsafe(in first, i))
                + (two * Vector256.LoadUnsafe(in second, i))
                + (three * Vector256.LoadUnsafe(in third, i))
                + (four * Vector256.LoadUnsafe(in fourth, i));
            sum.StoreUnsafe(ref sums, i);
        }
    }

    private ReadOnlySpan<float> Row(int row) => _rows.AsSpan(row * _width, _width);
}

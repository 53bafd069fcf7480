using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Derivid.Core.Estimates;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>Many of the distributions of <see cref="TemperatureEstimate"/>, without bounds, side by side.</summary>
/// <remarks>The very operations of <see cref="TemperatureEstimate.UnboundedDensityAt"/> in the same order, several at once: the same to the last bit. Immutable.</remarks>
internal sealed class StudentColumn
{
    // Filled up with distributions that nobody asks for, so that every vector is whole.
    private readonly double[] _middles;
    private readonly double[] _squaredScales;

    /// <summary>Takes the distributions.</summary>
    /// <param name="distributions">Middle and scale of each. Units: °C. Bounds: scales above 0.</param>
    public StudentColumn(IEnumerable<(double MiddleCelsius, double ScaleCelsius)> distributions)
    {
        var all = distributions.ToList();
        Count = all.Count;
        var whole = (Count + Vector<double>.Count - 1) / Vector<double>.Count * Vector<double>.Count;
        (_middles, _squaredScales) = (new double[whole], new double[whole]);
        Array.Fill(_squaredScales, 1);
        foreach (var (i, (middle, scale)) in all.Index())
        {
            (_middles[i], _squaredScales[i]) = (middle, scale * scale);
        }
    }

    /// <summary>How many there are.</summary>
    public int Count { get; }

    /// <summary>Densities of one temperature, seen through a further error as by <see cref="TemperatureEstimate.ReadWithin"/>.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    /// <param name="errorCelsius">Standard deviation of that error. Units: °C.</param>
    /// <param name="densities">Filled with them. Units: 1/°C. Shape: <see cref="Count"/>.</param>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public void DensitiesAt(double celsius, double errorCelsius, Span<double> densities)
    {
        const double freedom = TemperatureEstimate.DegreesOfFreedom;
        var further = new Vector<double>(errorCelsius * errorCelsius * (freedom - 2) / freedom);
        var at = new Vector<double>(celsius);
        var whole = MemoryMarshal.Cast<double, Vector<double>>(densities[..Count]);
        var middles = MemoryMarshal.Cast<double, Vector<double>>(_middles);
        var squaredScales = MemoryMarshal.Cast<double, Vector<double>>(_squaredScales);
        for (var i = 0; i < whole.Length; i++)
        {
            whole[i] = Densities(at - middles[i], squaredScales[i] + further);
        }

        var done = whole.Length * Vector<double>.Count;
        if (done < Count)
        {
            var last = Densities(at - middles[^1], squaredScales[^1] + further);
            for (var i = done; i < Count; i++)
            {
                densities[i] = last[i - done];
            }
        }
    }

    private static Vector<double> Densities(Vector<double> deviations, Vector<double> squaredScales)
    {
        var scales = Vector.SquareRoot(squaredScales);
        var z = deviations / scales;
        var core = Vector<double>.One + (z * z / new Vector<double>(TemperatureEstimate.DegreesOfFreedom));
        return new Vector<double>(0.375) / (scales * core * core * Vector.SquareRoot(core));
    }
}

using Derivid.Validation.Simulation;

namespace Derivid.Validation.Ideal;

/// <summary>Density of a boiling reading about a listed value under the bench's own errors.</summary>
/// <remarks>The thermometer's offset is left to the caller. Thread safety: immutable.</remarks>
public sealed class BoilingDensity
{
    private const double Step = 0.25;
    private const double Reach = 60;

    private readonly BenchParameters _bench;
    private readonly double[] _density;

    /// <summary>Works the table out.</summary>
    public BoilingDensity(BenchParameters bench)
    {
        _bench = bench;
        const int nodes = 64;
        var half = (int)(Reach / Step);
        var plain = new double[(2 * half) + 1];
        for (var node = 0; node < nodes; node++)
        {
            var low = -bench.BoilingLowCelsius * Math.Log(1 - ((node + 0.5) / nodes));
            foreach (var (place, share) in NormalNodes.Fine)
            {
                var error = (place * bench.BoilingReadingCelsius) - low;
                for (var i = 0; i < plain.Length; i++)
                {
                    var centre = ((i - half) * Step) - error;
                    var rounding = bench.RoundingCelsius / 2;
                    plain[i] += share
                        * (bench.BoilingScatter.Below(centre + rounding) - bench.BoilingScatter.Below(centre - rounding))
                        / (bench.RoundingCelsius * nodes);
                }
            }
        }

        plain = WithLow(plain);
        var ten = (int)Math.Round(10 / Step);
        _density = [.. plain.Select((at, i) => ((1 - bench.GrossShare) * at)
            + (bench.GrossShare * bench.TensShare / 2 * (At(plain, i - ten) + At(plain, i + ten))))];
    }

    /// <summary>The density, gross mistakes included.</summary>
    /// <param name="high">Upper end of the range read, less the thermometer's offset. Units: °C.</param>
    /// <param name="asRead">The same as read. Units: °C.</param>
    /// <param name="listed">The listed value. Units: °C.</param>
    /// <returns>Units: 1/°C.</returns>
    public double At(double high, double asRead, double listed)
    {
        var place = (high - listed + Reach) / Step;
        var cell = (int)Math.Floor(place);
        var density = cell >= 0 && cell < _density.Length - 1
            ? double.Lerp(_density[cell], _density[cell + 1], place - cell)
            : 0;
        return density + Gross(asRead);
    }

    /// <summary>Density of a reading that is anything at all. Units: 1/°C.</summary>
    public double Gross(double asRead) =>
        asRead < _bench.GrossBoiling.Least || asRead > _bench.GrossBoiling.Most
            ? 1e-12
            : _bench.GrossShare * (1 - _bench.TensShare) / (_bench.GrossBoiling.Most - _bench.GrossBoiling.Least);

    /// <summary>Mixes in the share read with the bulb out of the vapour.</summary>
    private double[] WithLow(double[] plain)
    {
        if (_bench.LowBoilingShare == 0)
        {
            return plain;
        }

        var mixed = plain.Select(at => (1 - _bench.LowBoilingShare) * at).ToArray();
        foreach (var (place, weight) in NormalNodes.All)
        {
            var low = _bench.LowBoilingCelsius.Mean + (place * _bench.LowBoilingCelsius.Spread);
            var cells = (int)Math.Round(low / Step);
            for (var i = 0; i < mixed.Length; i++)
            {
                mixed[i] += _bench.LowBoilingShare * weight * At(plain, i + cells);
            }
        }

        return mixed;
    }

    private static double At(double[] values, int i) => i >= 0 && i < values.Length ? values[i] : 0;
}

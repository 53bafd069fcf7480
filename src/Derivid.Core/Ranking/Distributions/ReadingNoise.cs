using System.Runtime.CompilerServices;
using Derivid.Core.Compounds;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>Density of one reading's deviation from a listed value: core, impurity tail, wide component, gross errors.</summary>
/// <remarks>
/// With gross share g, wide share w, impure share i, low share l and core σ:
/// (1 − w − g)·[(1 − i − l)·N(σ) + i·depressed(σ, τ) + l·low(σ, L)] + w·N(√(σ² + W²)) + g/(working range). Every component has its mode at 0, so the whole never rises away from it.
/// What a quality of listed value needs is prepared when the first such value is met: a table holds few of the twelve.
/// Thread safety: for one thread at a time.
/// </remarks>
public sealed class ReadingNoise
{
    private readonly Component[] _components = new Component[16];
    private readonly ScatterSettings _scatter;
    private readonly double _kindFactor;
    private readonly ReadingError _error;
    private readonly double _even;

    /// <summary>Prepares the density for one reading.</summary>
    /// <param name="scatter">Scatter of a reading about a listed value.</param>
    /// <param name="kindFactor">Factor on the core scatter. Bounds: above 0.</param>
    /// <param name="error">How the reading may err.</param>
    public ReadingNoise(ScatterSettings scatter, double kindFactor, ReadingError error)
    {
        ArgumentNullException.ThrowIfNull(scatter);
        _even = 1 / (scatter.HighestCelsius - scatter.LowestCelsius);
        _scatter = scatter;
        _kindFactor = kindFactor;
        _error = error;
    }

    /// <summary>Density of a gross error. Units: 1/°C.</summary>
    public double Even => _even;

    /// <summary>The density.</summary>
    /// <param name="deviation">Reading less listed value. Units: °C.</param>
    /// <param name="value">The listed value, for its quality.</param>
    /// <returns>Units: 1/°C. Bounds: at least the gross share of <see cref="Even"/>, so above 0 everywhere.</returns>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public double At(double deviation, ListedTemperature value)
    {
        ArgumentNullException.ThrowIfNull(value);
        var index = QualityOf(value);
        ref var component = ref _components[index];
        if (!component.IsPrepared)
        {
            component = Prepared(index);
        }

        return component.At(deviation);
    }

    /// <summary>All of a listed value that the density depends on, but for the deviation from it.</summary>
    internal static int QualityOf(ListedTemperature value) => ((int)value.Verification << 2)
        | (value.Decomposes ? 2 : 0)
        | (value.HighCelsius >= ScatterSettings.HotFromCelsius ? 1 : 0);

    private Component Prepared(int index)
    {
        var core = _scatter.CoreCelsius(
            (Verification)(index >> 2), (index & 1) != 0, _error.Decomposes || (index & 2) != 0, _error.ReadingCelsius);
        return new Component(_scatter, core * _kindFactor, _error.Purity, _even);
    }

    private readonly struct Component(ScatterSettings scatter, double core, Purity purity, double even)
    {
        /// <summary>
        /// Above the listed value, and a whole plateau below it, the narrow parts fall as a normal: this many standard deviations
        /// out they are under e⁻⁶⁰, which added to the gross errors changes no bit.
        /// </summary>
        private const double Out = 11;

        private readonly double _core = core;
        private readonly double _wide = Math.Sqrt((core * core) + (scatter.WideCelsius * scatter.WideCelsius));
        private readonly double _coreShare = (1 - scatter.WideShare - scatter.GrossShare) * (1 - purity.ImpureShare - purity.LowShare);
        private readonly double _impureShare = (1 - scatter.WideShare - scatter.GrossShare) * purity.ImpureShare;
        private readonly double _lowShare = (1 - scatter.WideShare - scatter.GrossShare) * purity.LowShare;
        private readonly double _wideShare = scatter.WideShare;
        private readonly double _floor = scatter.GrossShare * even;
        private readonly DepressedNormal _depressed =
            purity.ImpureShare > 0 ? new(core, purity.DepressionCelsius) : default;

        private readonly LowPlateau _low = purity.LowShare > 0 ? new(core, purity.LowCelsius) : default;

        public bool IsPrepared => _core > 0;

        [MethodImpl(MethodImplOptions.AggressiveOptimization)]
        public double At(double deviation)
        {
            var density = _floor + (_wideShare * NormalDensity.At(deviation, _wide));
            if (deviation > Out * _core)
            {
                return density;
            }

            density += deviation > -Out * _core ? _coreShare * NormalDensity.At(deviation, _core) : 0;
            density += _impureShare > 0 ? _impureShare * _depressed.At(deviation) : 0;
            return _lowShare > 0 ? density + (_lowShare * _low.At(deviation)) : density;
        }
    }
}

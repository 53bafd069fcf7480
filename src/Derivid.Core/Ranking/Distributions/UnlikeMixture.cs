using Derivid.Core.Melting;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>Density of the clear point of about one part of a compound with one of another.</summary>
/// <remarks>
/// The ideal law of <see cref="IdealEutectic"/> with both entropies of fusion unknown, lognormal and independent of each
/// other, and so is the ratio of moles: heaps equal by eye are not equal, and what is ground badly melts as if it held more
/// of one. A mixture that is nearly all of one compound hardly melts lower. The clear point is the higher of the two liquidus temperatures, so with the
/// densities f and the shares below F of either it has the density f₁F₂ + F₁f₂, in closed form for each composition. The
/// errors of reading are left out. Thread safety: immutable.
/// </remarks>
/// <param name="settings">The entropies and the composition.</param>
public sealed class UnlikeMixture(MixedMeltingSettings settings)
{
    // Even steps of the logarithm of the ratio, the trapezoidal rule, which is as good as exact for a smooth density; the
    // entropies smooth over more than a step.
    private const int StepsEitherSide = 10;
    private const double StepDeviations = 0.4;

    private readonly double _spread = Math.Log(settings.FusionEntropyFactor);

    private readonly Composition[] _compositions = [.. Compositions(settings)];

    /// <summary>The density.</summary>
    /// <param name="celsius">Clear point of the mixture. Units: °C.</param>
    /// <param name="oneCelsius">Melting point of one compound. Units: °C.</param>
    /// <param name="otherCelsius">Of the other. Units: °C.</param>
    /// <returns>Units: 1/°C. 0 from the higher melting point up.</returns>
    public double DensityAt(double celsius, double oneCelsius, double otherCelsius) => DensityOf(celsius, otherCelsius)(oneCelsius);

    /// <summary>The density by the melting point of one compound, for many of them beside the same other.</summary>
    /// <param name="celsius">Clear point of the mixture. Units: °C.</param>
    /// <param name="otherCelsius">Melting point of the other. Units: °C.</param>
    public Func<double, double> DensityOf(double celsius, double otherCelsius)
    {
        var others = Array.ConvertAll(_compositions, at => Liquidus(celsius, otherCelsius, at.OtherLogFall));
        return one =>
        {
            var density = 0.0;
            for (var i = 0; i < others.Length; i++)
            {
                var own = Liquidus(celsius, one, _compositions[i].LogFall);
                density += _compositions[i].Weight * ((own.Density * others[i].Below) + (own.Below * others[i].Density));
            }

            return density;
        };
    }

    private static IEnumerable<Composition> Compositions(MixedMeltingSettings settings)
    {
        var at = Enumerable.Range(-StepsEitherSide, (2 * StepsEitherSide) + 1).Select(step => step * StepDeviations).ToList();
        var all = at.Sum(deviations => NormalDensity.At(deviations, 1));
        return at.Select(deviations => new Composition(
            NormalDensity.At(deviations, 1) / all,
            1 / (1 + Math.Pow(settings.MoleRatioFactor, -deviations)),
            settings.FusionEntropy));
    }

    /// <summary>Density of a liquidus temperature, and the share below: T*/T − 1 is −R·ln x/ΔS, so lognormal as ΔS is.</summary>
    private (double Density, double Below) Liquidus(double celsius, double melting, double logFall)
    {
        if (celsius >= melting)
        {
            return (0, 1);
        }

        var kelvin = Kelvin.Of(celsius);
        var fall = (melting - celsius) / kelvin;
        var u = (Math.Log(fall) - logFall) / _spread;
        var slope = Kelvin.Of(melting) / (kelvin * kelvin * fall * _spread);
        return (NormalDensity.At(u, 1) * slope, NormalDensity.Below(-u, 1));
    }

    /// <summary>One composition, with the logarithm of T*/T − 1 of either compound at the middle entropy.</summary>
    private readonly struct Composition(double weight, double moleFraction, double entropy)
    {
        public double Weight { get; } = weight;

        public double LogFall { get; } = Math.Log(-IdealLiquidus.GasConstant * Math.Log(moleFraction) / entropy);

        public double OtherLogFall { get; } = Math.Log(-IdealLiquidus.GasConstant * Math.Log(1 - moleFraction) / entropy);
    }
}

using Derivid.Core.Melting;

namespace Derivid.Core.Ranking.Distributions;

/// <summary>Density of the clear point of about one part of a compound with one of another.</summary>
/// <remarks>
/// The ideal law of <see cref="IdealEutectic"/> with both entropies of fusion unknown, lognormal and independent of each
/// other, and the mole fraction about a half. The clear point is the higher of the two liquidus temperatures, so with the
/// densities f and the shares below F of either it has the density f₁F₂ + F₁f₂, in closed form for each composition. The
/// errors of reading are left out: they are small beside this spread, and where the law gives nothing the callers' floor
/// stands. Thread safety: immutable.
/// </remarks>
/// <param name="settings">The entropies and the composition.</param>
public sealed class UnlikeMixture(MixedMeltingSettings settings)
{
    // Gauss-Hermite rule of three points, which takes a normal composition exactly to the fifth power: Abramowitz & Stegun
    // (1964), Table 25.10.
    private const double OuterWeight = 1.0 / 6;
    private const double MiddleWeight = 4.0 / 6;

    private readonly double _logEntropy = Math.Log(settings.FusionEntropy);
    private readonly double _spread = Math.Log(settings.FusionEntropyFactor);
    private readonly double _aside = Math.Sqrt(3) * settings.MoleFractionSpread;

    /// <summary>The density.</summary>
    /// <param name="celsius">Clear point of the mixture. Units: °C.</param>
    /// <param name="oneCelsius">Melting point of one compound. Units: °C.</param>
    /// <param name="otherCelsius">Of the other. Units: °C.</param>
    /// <returns>Units: 1/°C. 0 from the higher melting point up.</returns>
    public double DensityAt(double celsius, double oneCelsius, double otherCelsius) =>
        (OuterWeight * At(celsius, oneCelsius, otherCelsius, 0.5 - _aside))
        + (MiddleWeight * At(celsius, oneCelsius, otherCelsius, 0.5))
        + (OuterWeight * At(celsius, oneCelsius, otherCelsius, 0.5 + _aside));

    private double At(double celsius, double one, double other, double moleFraction)
    {
        var (density, below) = Liquidus(celsius, one, moleFraction);
        var (otherDensity, otherBelow) = Liquidus(celsius, other, 1 - moleFraction);
        return (density * otherBelow) + (below * otherDensity);
    }

    /// <summary>Density of a liquidus temperature, and the share below: T*/T − 1 is −R·ln x/ΔS, so lognormal as ΔS is.</summary>
    private (double Density, double Below) Liquidus(double celsius, double melting, double moleFraction)
    {
        if (celsius >= melting)
        {
            return (0, 1);
        }

        var kelvin = celsius + IdealEutectic.IcePointKelvin;
        var fall = (melting - celsius) / kelvin;
        var u = (Math.Log(fall) - Math.Log(-IdealEutectic.GasConstant * Math.Log(moleFraction)) + _logEntropy) / _spread;
        var slope = (melting + IdealEutectic.IcePointKelvin) / (kelvin * kelvin * fall * _spread);
        return (NormalDensity.At(u, 1) * slope, NormalDensity.Below(-u, 1));
    }
}

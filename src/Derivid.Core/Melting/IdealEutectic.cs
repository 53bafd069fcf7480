namespace Derivid.Core.Melting;

/// <summary>Where a mixture of two compounds melts that share the melt but not the crystal.</summary>
/// <remarks>
/// The law of <see cref="IdealLiquidus"/> for both crystals, with the entropy of fusion for the enthalpy over the melting
/// point: ln x = −(ΔS/R)(T*/T − 1). Measured
/// eutectics of organic pairs lie within 2.5 K and 0.03 of it (K. Karunakaran, J. Solution Chem. 10 (1981) 431, abstract
/// read); hydrogen bonds, mixed crystals and compounds of the two are not foreseen.
/// </remarks>
public static class IdealEutectic
{
    /// <summary>Halvings of the interval the eutectic is looked for in: to the last bit.</summary>
    private const int Halvings = 60;

    /// <summary>Temperature at which the last crystal of a compound dissolves in the melt.</summary>
    /// <param name="solid">The compound.</param>
    /// <param name="moleFraction">Its mole fraction. Bounds: above 0 to 1.</param>
    /// <returns>Units: °C.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The mole fraction is out of bounds.</exception>
    public static double LiquidusCelsius(PureSolid solid, double moleFraction)
    {
        if (!(moleFraction is > 0 and <= 1))
        {
            throw new ArgumentOutOfRangeException(nameof(moleFraction), moleFraction, "Must lie above 0 and not above 1.");
        }

        return IdealLiquidus.Celsius(
            IdealLiquidus.EnthalpyOf(solid.FusionEntropy, solid.MeltingCelsius), solid.MeltingCelsius, moleFraction);
    }

    /// <summary>Clear point of a mixture: the last crystal is of the compound there is too much of for the eutectic.</summary>
    /// <param name="one">One compound.</param>
    /// <param name="other">The other.</param>
    /// <param name="moleFraction">Mole fraction of the one. Bounds: between 0 and 1.</param>
    /// <returns>Units: °C.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The mole fraction is out of bounds.</exception>
    public static double ClearPointCelsius(PureSolid one, PureSolid other, double moleFraction) =>
        Math.Max(LiquidusCelsius(one, moleFraction), LiquidusCelsius(other, 1 - moleFraction));

    /// <summary>Where and at which composition both crystals melt together: the onset of every mixture of the two.</summary>
    /// <param name="one">One compound.</param>
    /// <param name="other">The other.</param>
    /// <returns>The temperature, in °C, and the mole fraction of the one.</returns>
    public static (double Celsius, double MoleFraction) Of(PureSolid one, PureSolid other)
    {
        var (low, high) = (0.0, 1.0);
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) / 2;
            var isTooMuch = LiquidusCelsius(one, middle) > LiquidusCelsius(other, 1 - middle);
            (low, high) = isTooMuch ? (low, middle) : (middle, high);
        }

        return (LiquidusCelsius(one, high), high);
    }
}

/// <summary>A crystal as the law of <see cref="IdealEutectic"/> knows it.</summary>
/// <param name="MeltingCelsius">Melting point of the pure compound. Units: °C.</param>
/// <param name="FusionEntropy">Entropy of fusion: the enthalpy over the melting point. Units: J/(mol·K). Bounds: above 0.</param>
public readonly record struct PureSolid(double MeltingCelsius, double FusionEntropy);

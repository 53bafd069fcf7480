namespace Derivid.Validation.Simulation;

/// <summary>Where an impure solid melts.</summary>
/// <remarks>
/// ln(1 − x) = −(ΔH/R)(1/T − 1/T*) for an ideal melt of an impurity that does not enter the crystal, with the
/// enthalpy of fusion written as ΔS·T*. Source: Schröder–van Laar equation, textbook form; recalled.
/// </remarks>
public static class SchroederVanLaar
{
    /// <summary>Molar gas constant. Units: J/(mol·K). Source: SI, exact product of defined constants, rounded.</summary>
    public const double GasConstant = 8.314462618;

    private const double ZeroCelsius = 273.15;

    /// <summary>Temperature at which the last crystal of the main compound dissolves in the melt.</summary>
    /// <param name="pureCelsius">Melting point of the pure compound. Units: °C.</param>
    /// <param name="fusionEntropy">Entropy of fusion. Units: J/(mol·K).</param>
    /// <param name="moleFraction">Mole fraction of impurity in the melt. Bounds: 0 up, below 1.</param>
    /// <returns>Units: °C.</returns>
    public static double LiquidusCelsius(double pureCelsius, double fusionEntropy, double moleFraction) =>
        ((pureCelsius + ZeroCelsius) / (1 - (GasConstant / fusionEntropy * Math.Log(1 - moleFraction)))) - ZeroCelsius;
}

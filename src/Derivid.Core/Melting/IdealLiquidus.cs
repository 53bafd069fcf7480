namespace Derivid.Core.Melting;

/// <summary>Where the last crystal of a substance goes in a melt with something else in it: the law of Schröder and van Laar.</summary>
/// <remarks>
/// ln x = −(ΔH/R)(1/T − 1/T₀): x is the mole fraction of the main substance, ΔH its enthalpy of fusion and T₀ its own melting
/// point. The melt is taken as ideal, the crystals as pure and ΔH as the same at every temperature. Van 't Hoff's law is its
/// tangent at T₀. Bounds: temperatures and enthalpy above 0. Thread safety: no state.
/// </remarks>
public static class IdealLiquidus
{
    /// <summary>Molar gas constant. Units: J/(mol·K). Source: SI, exact product of defined constants, rounded.</summary>
    public const double GasConstant = 8.314462618;

    /// <summary>What of a melt is the main substance, from where its last crystal goes.</summary>
    /// <param name="joulesPerMole">Enthalpy of fusion. Units: J/mol.</param>
    /// <param name="pureCelsius">Melting point of the main substance by itself. Units: °C.</param>
    /// <param name="clearCelsius">Where the last crystal goes. Units: °C.</param>
    /// <returns>Mole fraction; above 1 where it melts higher than by itself, which no ideal melt does.</returns>
    public static double MoleFraction(double joulesPerMole, double pureCelsius, double clearCelsius) =>
        Math.Exp(-joulesPerMole / GasConstant * ((1 / Kelvin.Of(clearCelsius)) - (1 / Kelvin.Of(pureCelsius))));

    /// <summary>The same by the tangent at the melting point: ln x = −ΔH (T₀ − T)/(R T₀²).</summary>
    /// <inheritdoc cref="MoleFraction"/>
    public static double LinearMoleFraction(double joulesPerMole, double pureCelsius, double clearCelsius) =>
        Math.Exp(-joulesPerMole * (pureCelsius - clearCelsius) / (GasConstant * Kelvin.Of(pureCelsius) * Kelvin.Of(pureCelsius)));

    /// <summary>Where the last crystal of the main substance goes.</summary>
    /// <param name="joulesPerMole">Enthalpy of fusion. Units: J/mol.</param>
    /// <param name="pureCelsius">Melting point of the main substance by itself. Units: °C.</param>
    /// <param name="moleFraction">What of the melt it is. Bounds: above 0, at most 1.</param>
    /// <returns>Units: °C. Below the eutectic of the two it means nothing, since there the other's crystals go last.</returns>
    public static double Celsius(double joulesPerMole, double pureCelsius, double moleFraction) =>
        (1 / ((1 / Kelvin.Of(pureCelsius)) - (GasConstant * Math.Log(moleFraction) / joulesPerMole))) - Kelvin.AtZeroCelsius;

    /// <summary>Enthalpy of fusion of a substance with an entropy of fusion.</summary>
    /// <param name="joulesPerMoleKelvin">Entropy of fusion. Units: J/(mol K).</param>
    /// <param name="pureCelsius">Its melting point. Units: °C.</param>
    /// <returns>Units: J/mol.</returns>
    public static double EnthalpyOf(double joulesPerMoleKelvin, double pureCelsius) => joulesPerMoleKelvin * Kelvin.Of(pureCelsius);
}

namespace Derivid.Core.Melting;

/// <summary>The absolute scale, on which the laws of melting and boiling are written.</summary>
internal static class Kelvin
{
    /// <summary>0 °C. Units: K. Source: SI, exact.</summary>
    public const double AtZeroCelsius = (double)-MeltingRangeEnd.AbsoluteZeroCelsius;

    /// <summary>A temperature on it.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    /// <returns>Units: K.</returns>
    public static double Of(double celsius) => celsius + AtZeroCelsius;
}

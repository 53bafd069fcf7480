namespace Derivid.Core.Melting;

/// <summary>The pressure to be expected at an altitude.</summary>
/// <remarks>
/// ISO 2533:1975, standard atmosphere, below 11 km: p = 101.325 kPa (1 − 0.0065 H / 288.15)^5.255876 with the geopotential altitude
/// H = 6356766 h / (6356766 + h), both in m. Constants as its table 5 is reproduced by them. The weather moves the pressure by some 1 to
/// 3 kPa about it, a degree of boiling point at most (common practice, no source): a barometer is better.
/// </remarks>
public static class StandardAtmosphere
{
    /// <summary>The lowest altitude taken. Units: m.</summary>
    public const double LowestMetres = -500;

    /// <summary>The highest: people work no higher. Units: m.</summary>
    public const double HighestMetres = 6000;

    private const double EarthRadiusMetres = 6_356_766;
    private const double LapsePerMetre = 0.0065;
    private const double GroundKelvin = 288.15;
    private const double Exponent = 5.255876;

    /// <summary>The pressure at an altitude.</summary>
    /// <param name="metres">Height above sea level. Units: m. Bounds: −500 to 6000.</param>
    /// <returns>Units: kPa.</returns>
    public static double KilopascalsAt(double metres)
    {
        var geopotential = EarthRadiusMetres * metres / (EarthRadiusMetres + metres);
        return Observations.BoilingPointReading.StandardPressureKilopascals * Math.Pow(1 - (LapsePerMetre * geopotential / GroundKelvin), Exponent);
    }
}

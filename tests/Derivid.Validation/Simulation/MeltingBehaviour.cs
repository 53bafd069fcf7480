namespace Derivid.Validation.Simulation;

/// <summary>How one packed capillary behaves, before anybody misreads it.</summary>
/// <param name="ShiftCelsius">Clear point less the pure compound's melting point. Units: °C.</param>
/// <param name="WidthCelsius">Clear point less the temperature of the first liquid seen. Units: °C.</param>
public readonly record struct MeltingBehaviour(double ShiftCelsius, double WidthCelsius)
{
    /// <summary>Works out shift and width.</summary>
    /// <param name="pureCelsius">Melting point of the pure compound. Units: °C.</param>
    /// <param name="fusionEntropy">Entropy of fusion. Units: J/(mol·K).</param>
    /// <param name="impurity">Mole fraction of impurity.</param>
    /// <param name="visibleShare">Share of the sample that must be liquid before anybody sees it.</param>
    /// <param name="rate">Heating rate. Units: °C/min.</param>
    /// <param name="lagMinutes">Time the last crystals take to go. Units: min.</param>
    /// <param name="bench">Figures of the bench.</param>
    public static MeltingBehaviour Of(
        double pureCelsius,
        double fusionEntropy,
        double impurity,
        double visibleShare,
        double rate,
        double lagMinutes,
        BenchParameters bench)
    {
        var clear = SchroederVanLaar.LiquidusCelsius(pureCelsius, fusionEntropy, impurity);
        var melt = Math.Min(impurity / visibleShare, bench.EutecticMoleFraction);
        var onset = SchroederVanLaar.LiquidusCelsius(pureCelsius, fusionEntropy, Math.Max(melt, impurity));
        var rateBias = bench.RateBiasCelsius * (Math.Sqrt(rate) - Math.Sqrt(bench.LiteratureRate));
        return new MeltingBehaviour(clear - pureCelsius + rateBias, clear - onset + (rate * lagMinutes));
    }
}

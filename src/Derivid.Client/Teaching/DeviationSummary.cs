namespace Derivid.Client.Teaching;

/// <summary>The distribution of the deviations of one compound or one bench.</summary>
/// <param name="Key">Compound or bench.</param>
/// <param name="Count">Number of deviations.</param>
/// <param name="MedianCelsius">Units: °C, a difference.</param>
/// <param name="MedianAbsoluteDeviationCelsius">Not scaled. Units: °C, a difference.</param>
/// <param name="LowestCelsius">Units: °C, a difference.</param>
/// <param name="LowerQuartileCelsius">Units: °C, a difference.</param>
/// <param name="UpperQuartileCelsius">Units: °C, a difference.</param>
/// <param name="HighestCelsius">Units: °C, a difference.</param>
/// <param name="MedianSpanCelsius">Median width of the ranges. Units: °C, a difference.</param>
public sealed record DeviationSummary(
    string Key,
    int Count,
    double MedianCelsius,
    double MedianAbsoluteDeviationCelsius,
    double LowestCelsius,
    double LowerQuartileCelsius,
    double UpperQuartileCelsius,
    double HighestCelsius,
    double MedianSpanCelsius);

namespace Derivid.Core.Melting;

/// <summary>One standard melted with the thermometer in question.</summary>
/// <param name="ReadCelsius">What the thermometer showed at the clear point. Units: °C.</param>
/// <param name="AcceptedCelsius">The standard's accepted clear point. Units: °C.</param>
public readonly record struct CalibrationPoint(double ReadCelsius, double AcceptedCelsius);

using System.Globalization;

namespace Derivid.Validation.Reports;

/// <summary>A figure with its bootstrap interval, as the tables print it.</summary>
/// <param name="Value">The figure.</param>
/// <param name="Low">Lower end of the central 95 %.</param>
/// <param name="High">Upper end.</param>
public readonly record struct Interval(double Value, double Low, double High)
{
    /// <summary>The figure and its interval.</summary>
    public string Text(string format) => string.Create(
        CultureInfo.InvariantCulture,
        $"{Value.ToString(format, CultureInfo.InvariantCulture)} ({Low.ToString(format, CultureInfo.InvariantCulture)}–{High.ToString(format, CultureInfo.InvariantCulture)})");
}

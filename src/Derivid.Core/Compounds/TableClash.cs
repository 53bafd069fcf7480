namespace Derivid.Core.Compounds;

/// <summary>Two printed spans of one thing that do not agree.</summary>
/// <param name="First">The one that stands first in the table.</param>
/// <param name="Second">The other.</param>
/// <param name="GapCelsius">How far the nearer ends lie apart. Units: °C, a difference.</param>
public sealed record TableClash(PrintedSpan First, PrintedSpan Second, double GapCelsius);

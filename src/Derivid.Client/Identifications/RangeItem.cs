namespace Derivid.Client.Identifications;

/// <summary>A temperature range.</summary>
/// <param name="OnsetCelsius">First liquid seen. Units: °C.</param>
/// <param name="ClearPointCelsius">Last crystal gone. Units: °C.</param>
/// <param name="Decomposes">Whether it darkened or gave off gas while melting.</param>
public sealed record RangeItem(double OnsetCelsius, double ClearPointCelsius, bool Decomposes);

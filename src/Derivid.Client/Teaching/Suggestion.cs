namespace Derivid.Client.Teaching;

/// <summary>Something to look into, never a finding.</summary>
/// <param name="Kind">What it may be.</param>
/// <param name="Key">The bench, or the compound.</param>
/// <param name="OffsetCelsius">By how much its readings run high. Units: °C, a difference; below zero, low.</param>
/// <param name="UncertaintyCelsius">Standard error of the offset. Units: °C, a difference.</param>
/// <param name="Count">Readings behind it.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record Suggestion(
    string Kind, string Key, double OffsetCelsius, double UncertaintyCelsius, int Count, string Sentence);

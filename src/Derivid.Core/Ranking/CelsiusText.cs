namespace Derivid.Core.Ranking;

/// <summary>Temperatures as the bench writes them.</summary>
internal static class CelsiusText
{
    /// <summary>One figure or a range, such as "126 °C" or "187–190 °C".</summary>
    public static string Range(double low, double high) =>
        low == high ? $"{Number(low)} °C" : $"{Number(low)}–{Number(high)} °C";

    /// <summary>A figure to a tenth at most, with a true minus sign.</summary>
    public static string Number(double celsius) => Figure.Text(celsius, decimals: 1);
}

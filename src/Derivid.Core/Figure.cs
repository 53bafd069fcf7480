using System.Globalization;

namespace Derivid.Core;

/// <summary>Figures in sentences.</summary>
internal static class Figure
{
    /// <summary>A figure with so many decimals at most, a true minus sign, and no sign where it comes to nothing.</summary>
    /// <param name="value">The figure.</param>
    /// <param name="decimals">Most decimals.</param>
    public static string Text(double value, int decimals)
    {
        var text = value.ToString("0." + new string('#', decimals), CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text.Replace('-', '−');
    }
}

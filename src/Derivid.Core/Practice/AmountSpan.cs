namespace Derivid.Core.Practice;

/// <summary>An amount known between two ends: of a compound that is known both are the same.</summary>
/// <remarks>Units: those of the property it stands in. Bounds: closed. Equality: by value, no tolerance.</remarks>
/// <param name="Low">The lower end.</param>
/// <param name="High">The upper end; not below the lower.</param>
public readonly record struct AmountSpan(double Low, double High)
{
    /// <summary>An amount that is known.</summary>
    /// <param name="amount">The amount.</param>
    public static AmountSpan Known(double amount) => new(amount, amount);

    /// <summary>The span of what a quantity comes to over another.</summary>
    /// <param name="amounts">Shape: not empty.</param>
    public static AmountSpan Over(params ReadOnlySpan<double> amounts)
    {
        var (low, high) = (amounts[0], amounts[0]);
        foreach (var amount in amounts)
        {
            (low, high) = (Math.Min(low, amount), Math.Max(high, amount));
        }

        return new AmountSpan(low, high);
    }

    /// <summary>The span as one measures it, in three digits that count.</summary>
    public string Measured() => Figure.Measured(Low, High);

    /// <summary>A span of shares in per cent; no probabilities, so it may go above 100.</summary>
    public string Percent() => $"{Figure.Span(100 * Low, 100 * High, decimals: 1)} %";
}

namespace Derivid.Core.Teaching.ClassView;

/// <summary>Splits values into a common part, a part of each row, a part of each column and what is left.</summary>
/// <remarks>
/// Row medians and column medians are taken out in turn until they are all zero, or twenty times. Cells may be empty or hold several values.
/// Source: Tukey, J. W. Exploratory Data Analysis; Addison-Wesley: Reading, MA, 1977, chapter 11.
/// Departures: several values a cell are allowed, and an effect is the median over the values, not over cell medians.
/// </remarks>
public sealed class MedianPolish
{
    private const int MostRounds = 20;
    private const double Settled = 1e-9;

    private readonly SortedDictionary<string, double> _rows = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, double> _columns = new(StringComparer.Ordinal);
    private readonly double[] _residuals;

    /// <summary>Polishes.</summary>
    /// <param name="cells">Row, column and value. Shape: any order; may be empty.</param>
    public MedianPolish(IReadOnlyList<(string Row, string Column, double Value)> cells)
    {
        ArgumentNullException.ThrowIfNull(cells);
        _residuals = [.. cells.Select(cell => cell.Value)];
        for (var round = 0; round < MostRounds; round++)
        {
            var moved = Sweep([.. cells.Select(cell => cell.Row)], _rows)
                + Sweep([.. cells.Select(cell => cell.Column)], _columns);
            if (moved < Settled)
            {
                break;
            }
        }
    }

    /// <summary>The common part.</summary>
    public double Overall { get; private set; }

    /// <summary>The part of each row; their median is 0.</summary>
    public IReadOnlyDictionary<string, double> Rows => _rows;

    /// <summary>The part of each column; their median is 0.</summary>
    public IReadOnlyDictionary<string, double> Columns => _columns;

    /// <summary>What is left. Shape: one a value, in the order given.</summary>
    public IReadOnlyList<double> Residuals => _residuals;

    /// <summary>Takes the median of each line out of what is left, and the median of the lines' parts into the common part.</summary>
    /// <returns>How much was moved in all.</returns>
    private double Sweep(string[] lines, SortedDictionary<string, double> effects)
    {
        var moved = 0.0;
        foreach (var line in lines.Select((key, i) => (key, i)).GroupBy(item => item.key, item => item.i, StringComparer.Ordinal))
        {
            var median = Robust.Median(line.Select(i => _residuals[i]));
            foreach (var i in line)
            {
                _residuals[i] -= median;
            }

            effects[line.Key] = effects.GetValueOrDefault(line.Key) + median;
            moved += Math.Abs(median);
        }

        if (effects.Count > 0)
        {
            var common = Robust.Median(effects.Values);
            foreach (var key in effects.Keys.ToList())
            {
                effects[key] -= common;
            }

            Overall += common;
        }

        return moved;
    }
}

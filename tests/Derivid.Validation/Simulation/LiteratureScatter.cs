namespace Derivid.Validation.Simulation;

/// <summary>How far the true value of a compound lies from a listed one, as a symmetric table of quantiles.</summary>
/// <remarks>
/// Between two quantiles the density is flat, so nothing here has the shape of the engine's own mixture. Units: °C.
/// </remarks>
public sealed class LiteratureScatter
{
    private readonly double[] _shares;
    private readonly double[] _absolute;

    /// <summary>Takes the quantiles of the absolute error.</summary>
    /// <param name="quantiles">Shape: share and absolute error, both rising; the last share is 1. Zero is implied first.</param>
    public LiteratureScatter(params (double Share, double AbsoluteCelsius)[] quantiles)
    {
        _shares = [0, .. quantiles.Select(q => q.Share)];
        _absolute = [0, .. quantiles.Select(q => q.AbsoluteCelsius)];
        for (var i = 1; i < _shares.Length; i++)
        {
            if (_shares[i] <= _shares[i - 1] || _absolute[i] <= _absolute[i - 1])
            {
                throw new ArgumentException("Shares and errors must both rise.", nameof(quantiles));
            }
        }

        if (_shares[^1] != 1)
        {
            throw new ArgumentException("The last share must be 1.", nameof(quantiles));
        }
    }

    /// <summary>Largest error that occurs. Units: °C.</summary>
    public double LargestCelsius => _absolute[^1];

    /// <summary>Draws an error. Units: °C.</summary>
    public double Draw(Random random)
    {
        var share = random.NextDouble();
        var i = 1;
        while (share > _shares[i])
        {
            i++;
        }

        var within = (share - _shares[i - 1]) / (_shares[i] - _shares[i - 1]);
        var absolute = double.Lerp(_absolute[i - 1], _absolute[i], within);
        return random.NextDouble() < 0.5 ? -absolute : absolute;
    }

    /// <summary>Probability of an error below a figure.</summary>
    /// <param name="celsius">The figure. Units: °C.</param>
    public double Below(double celsius)
    {
        var absolute = Math.Abs(celsius);
        if (absolute >= _absolute[^1])
        {
            return celsius < 0 ? 0 : 1;
        }

        var i = 1;
        while (absolute > _absolute[i])
        {
            i++;
        }

        var within = (absolute - _absolute[i - 1]) / (_absolute[i] - _absolute[i - 1]);
        var share = double.Lerp(_shares[i - 1], _shares[i], within);
        return celsius < 0 ? (1 - share) / 2 : (1 + share) / 2;
    }
}

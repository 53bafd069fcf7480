namespace Derivid.Core.Learning;

/// <summary>A figure learned, with the interval that holds it nine times of ten.</summary>
/// <param name="Mean">Posterior mean.</param>
/// <param name="Low">Lower end: one in twenty that the figure is below.</param>
/// <param name="High">Upper end: one in twenty that it is above.</param>
public readonly record struct LearnedFigure(double Mean, double Low, double High)
{
    /// <summary>What lies outside the interval at either end.</summary>
    public const double Tail = 0.05;

    /// <summary>Whether the interval holds a figure, its ends too.</summary>
    /// <param name="value">The figure.</param>
    public bool Holds(double value) => value >= Low && value <= High;

    /// <summary>A Beta distribution of a mean and how many reports it is worth.</summary>
    /// <param name="mean">Bounds: 0 to 1, both open.</param>
    /// <param name="worth">Sum of the two parameters. Bounds: above 0.</param>
    public static LearnedFigure OfBeta(double mean, double worth)
    {
        var nodes = BetaNodes.Fine;
        var weights = nodes.Density(mean * worth, (1 - mean) * worth);
        return nodes.Summarise(weights) with { Mean = mean };
    }
}

namespace Derivid.Core.Estimates;

/// <summary>A temperature that no source lists, as far as other values tell it: a Student t with four degrees of freedom.</summary>
/// <remarks>
/// Shape: the tails are heavier than a normal's, since estimates fail badly now and then; four degrees of freedom have a
/// closed distribution function and score within 0.02 nats of the best number for boiling points and melting points alike.
/// Below <paramref name="AtLeastCelsius"/> nothing is possible, and the density above is raised accordingly.
/// Standard deviation without that bound: <c>ScaleCelsius · √2</c>. Equality: by value. Default: a scale of 0, no estimate.
/// </remarks>
/// <param name="MeanCelsius">Middle of the unbounded distribution. Units: °C.</param>
/// <param name="ScaleCelsius">Its scale. Units: °C. Bounds: above 0.</param>
/// <param name="AtLeastCelsius">Lowest possible temperature. Units: °C. Missing: null, no bound.</param>
public readonly record struct TemperatureEstimate(double MeanCelsius, double ScaleCelsius, double? AtLeastCelsius = null)
{
    /// <summary>Degrees of freedom of the distribution.</summary>
    public const double DegreesOfFreedom = 4;

    /// <summary>Standard deviation of the unbounded distribution. Units: °C.</summary>
    public double SpreadCelsius => ScaleCelsius * Math.Sqrt(DegreesOfFreedom / (DegreesOfFreedom - 2));

    /// <summary>The estimate as seen through a further, independent error.</summary>
    /// <param name="celsius">Standard deviation of that error. Units: °C.</param>
    /// <returns>
    /// Same middle, standard deviations added in quadrature: a t again, which the exact sum is only nearly. The bound is
    /// lowered by three of these standard deviations, since a reading may fall below what is possible.
    /// </returns>
    public TemperatureEstimate ReadWithin(double celsius) => this with
    {
        ScaleCelsius = Math.Sqrt((ScaleCelsius * ScaleCelsius)
            + (celsius * celsius * (DegreesOfFreedom - 2) / DegreesOfFreedom)),
        AtLeastCelsius = AtLeastCelsius - (3 * celsius),
    };

    /// <summary>Probability density. Units: 1/°C.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    public double DensityAt(double celsius) =>
        celsius < AtLeastCelsius ? 0 : UnboundedDensityAt(celsius, MeanCelsius) / Possible;

    /// <summary>The same shape about another middle, without a bound. Units: 1/°C.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    /// <param name="middleCelsius">The middle. Units: °C.</param>
    public double UnboundedDensityAt(double celsius, double middleCelsius)
    {
        var z = (celsius - middleCelsius) / ScaleCelsius;
        var core = 1 + (z * z / DegreesOfFreedom);
        return 0.375 / (ScaleCelsius * core * core * Math.Sqrt(core));
    }

    /// <summary>Probability of a temperature at or below one.</summary>
    /// <param name="celsius">The temperature. Units: °C.</param>
    public double ProbabilityBelow(double celsius) => celsius < AtLeastCelsius
        ? 0
        : 1 - (UnboundedAbove(celsius) / Possible);

    private double Possible => AtLeastCelsius is { } bound ? Math.Max(UnboundedAbove(bound), 1e-12) : 1;

    // Distribution function of Student's t with four degrees of freedom: Abramowitz and Stegun (1964), 26.7.4 with ν = 4.
    private double UnboundedAbove(double celsius)
    {
        var z = (celsius - MeanCelsius) / ScaleCelsius;
        var sine = z / Math.Sqrt((z * z) + DegreesOfFreedom);
        return 0.5 - (sine * (3 - (sine * sine)) / 4);
    }
}

namespace Derivid.Core.Melting;

/// <summary>The span over which a solid was seen to melt, or a liquid to boil.</summary>
/// <remarks>
/// Units: °C, both ends. Bounds: closed; <see cref="LowestCelsius"/> to <see cref="HighestCelsius"/>; onset not above
/// clear point; NaN refused. Equality: by value, no tolerance. Missing: a reading of one figure gives both ends that
/// figure. Default: 0 °C to 0 °C. Thread safety: immutable.
/// </remarks>
public readonly record struct MeltingRange
{
    /// <summary>Lowest temperature accepted. Units: °C.</summary>
    public const double LowestCelsius = -200;

    /// <summary>Highest temperature accepted. Units: °C.</summary>
    public const double HighestCelsius = 450;

    /// <summary>Both bounds in words.</summary>
    public static string Bounds { get; } = FormattableString.Invariant($"from {LowestCelsius} to {HighestCelsius} °C");

    /// <summary>Takes a range as read.</summary>
    /// <param name="onsetCelsius">First liquid seen. Units: °C.</param>
    /// <param name="clearPointCelsius">Last crystal gone. Units: °C.</param>
    /// <param name="decomposes">Whether it darkened or gave off gas while melting.</param>
    /// <exception cref="ArgumentOutOfRangeException">An end is NaN or out of bounds, or the ends are reversed.</exception>
    public MeltingRange(double onsetCelsius, double clearPointCelsius, bool decomposes = false)
    {
        // Written so that NaN fails too.
        if (!(onsetCelsius >= LowestCelsius && onsetCelsius <= HighestCelsius))
        {
            throw new ArgumentOutOfRangeException(nameof(onsetCelsius), onsetCelsius, BoundsSentence);
        }

        if (!(clearPointCelsius >= LowestCelsius && clearPointCelsius <= HighestCelsius))
        {
            throw new ArgumentOutOfRangeException(nameof(clearPointCelsius), clearPointCelsius, BoundsSentence);
        }

        if (onsetCelsius > clearPointCelsius)
        {
            throw new ArgumentOutOfRangeException(
                nameof(clearPointCelsius), clearPointCelsius, "The clear point must not lie below the onset.");
        }

        OnsetCelsius = onsetCelsius;
        ClearPointCelsius = clearPointCelsius;
        Decomposes = decomposes;
    }

    /// <summary>First liquid seen. Units: °C.</summary>
    public double OnsetCelsius { get; }

    /// <summary>Last crystal gone. Units: °C.</summary>
    public double ClearPointCelsius { get; }

    /// <summary>Whether it darkened or gave off gas while melting.</summary>
    public bool Decomposes { get; }

    /// <summary>Clear point less onset. Units: °C, a difference.</summary>
    public double SpanCelsius => ClearPointCelsius - OnsetCelsius;

    private static string BoundsSentence => $"Must lie {Bounds}.";
}

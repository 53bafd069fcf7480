using Derivid.Core.Estimates;
using Derivid.Core.Melting;
using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking;

/// <summary>A mixed melting after corrections, with all that tells how it should melt.</summary>
internal sealed record MixedMelting
{
    // Middles of the fifths of a Student t of four degrees of freedom, in units of its scale: Abramowitz & Stegun (1964), 26.7.4.
    private static readonly double[] Fifths = [-1.5332, -0.5686, 0, 0.5686, 1.5332];

    /// <summary>Index of the parent whose authentic sample was taken.</summary>
    public required int Partner { get; init; }

    /// <summary>The derivative kind. Missing: null, the unknown itself.</summary>
    public required KindSnapshot? Kind { get; init; }

    /// <summary>What the table lists of the quantity.</summary>
    public required ListedTemperatures Listed { get; init; }

    /// <summary>The mixture's range.</summary>
    public required MeltingRange Used { get; init; }

    /// <summary>The authentic sample's. Missing: null, not melted.</summary>
    public required MeltingRange? Authentic { get; init; }

    /// <summary>The unknown's own crystals'. Missing: null, not melted alone.</summary>
    public required MeltingRange? Own { get; init; }

    /// <summary>
    /// What is believed of the purity of the unknown's own crystals; of it half is left in the mixture. Nothing is doubted of
    /// sharp recrystallised ones.
    /// </summary>
    public required Purity Purity { get; init; }

    /// <summary>Whether the prior leaves the partner out, so that an unknown that is the partner is none of those considered.</summary>
    public required bool IsPartnerLeftOut { get; init; }

    /// <summary>Standard deviation of the clear point from what it is compared with. Units: °C.</summary>
    public required double ReadingCelsius { get; init; }

    /// <summary>How much wider the mixture melted than the wider of what was melted beside it. Units: °C. Bounds: 0 up.</summary>
    public double WiderCelsius => Math.Max(0, Used.SpanCelsius - Math.Max(Authentic?.SpanCelsius ?? 0, Own?.SpanCelsius ?? 0));

    /// <summary>How far the mixture cleared above the unknown's own crystals. Units: °C. Bounds: 0 up; 0, not melted alone.</summary>
    public double AboveOwnCelsius => OwnCelsius is { } own ? Math.Max(0, Used.ClearPointCelsius - own) : 0;

    /// <summary>Clear point of the unknown's own crystals. Units: °C. Missing: null, not melted alone.</summary>
    public double? OwnCelsius => Own?.ClearPointCelsius;

    /// <summary>Middles of the fifths of an estimate. Units: °C.</summary>
    public static IEnumerable<double> MeltsOf(TemperatureEstimate estimate) =>
        Fifths.Select(fifth => estimate.MeanCelsius + (fifth * estimate.ScaleCelsius));

    /// <summary>Where the authentic sample melts, with weights that sum to 1. Units: °C. Shape: empty, nothing tells.</summary>
    public IReadOnlyList<(double Celsius, double Weight)> PartnerMelts() =>
        Authentic is { } read ? [(read.ClearPointCelsius, 1)]
        : Listed.Of(Partner) is { Count: > 0 } values ? [.. values.Select(value => (value.HighCelsius, value.Weight))]
        : Listed.EstimateOf(Partner) is { } estimate ? [.. MeltsOf(estimate).Select(celsius => (celsius, 1.0 / Fifths.Length))]
        : OwnCelsius is { } own ? [(own, 1)]
        : [];

    /// <summary>Where a compound's crystals melt. Units: °C. Missing: null, nothing tells.</summary>
    public double? MeltsAt(int parent) => OwnCelsius
        ?? (Listed.Of(parent) is { Count: > 0 } values ? values.Sum(value => value.Weight * value.HighCelsius) : Listed.EstimateOf(parent)?.MeanCelsius);

    /// <summary>Density of the clear point of a mixture that is seen to melt unchanged. Units: 1/°C.</summary>
    public double UnchangedDensity()
    {
        if (Authentic is null && Own is null)
        {
            var (density, relative) = (new double[Listed.ParentCount], new double[Listed.ParentCount]);
            Listed.Weigh(Used.ClearPointCelsius, new ReadingError(ReadingCelsius, Purity, Used.Decomposes), density, relative);
            return density[Partner];
        }

        // Lower than a pure sample by half the depression; higher by as much than the impure crystals, where they are all that was melted.
        var deviation = Used.ClearPointCelsius - BesideCelsius()!.Value;
        var unchanged = (1 - Purity.ImpureShare) * NormalDensity.At(deviation, ReadingCelsius);
        var impure = Purity.ImpureShare > 0
            ? Purity.ImpureShare * new DepressedNormal(ReadingCelsius, Purity.DepressionCelsius).At(Authentic is null ? -deviation : deviation)
            : 0;
        return (unchanged + impure) * (Authentic is null ? 1 : ShareThatFarAboveOwn());
    }

    /// <summary>How often a mixture of the same compound clears as far above the unknown's own crystals, or farther.</summary>
    private double ShareThatFarAboveOwn()
    {
        var pure = 2 * NormalDensity.Below(-AboveOwnCelsius, ReadingCelsius);
        return Purity.ImpureShare > 0
            ? double.Lerp(pure, Math.Exp(-AboveOwnCelsius / Purity.DepressionCelsius), Purity.ImpureShare)
            : pure;
    }

    /// <summary>How often a mixture of the same compound melts over as much more than its samples did, or over still more.</summary>
    /// <param name="settings">Widths of pure and of impure samples.</param>
    public double ShareThatMuchWider(DepressionSettings settings) => double.Lerp(
        Math.Exp(-WiderCelsius / settings.PureSpanCelsius), Math.Exp(-WiderCelsius / settings.ImpureSpanCelsius), Purity.ImpureShare);

    /// <summary>What the clear point is compared with. Units: °C. Missing: null, with nothing that was melted, nor listed.</summary>
    public double? BesideCelsius() => (Authentic ?? Own)?.ClearPointCelsius ?? Listed.Nearest(Partner, Used.ClearPointCelsius)?.HighCelsius;

    /// <summary>The same in words.</summary>
    public string Beside() => Authentic is { } authentic ? $"the authentic sample's {Figure.Degrees(authentic.ClearPointCelsius)} °C"
        : Own is { } own ? $"the {Figure.Degrees(own.ClearPointCelsius)} °C of the crystals alone"
        : Listed.Nearest(Partner, Used.ClearPointCelsius) is { } nearest ? $"the listed {Figure.Range(nearest.LowCelsius, nearest.HighCelsius)}"
        : "what is estimated for it";

    /// <summary>The authentic sample in words.</summary>
    /// <param name="name">Name of the partner.</param>
    public string Called(string name) => Kind is { } kind ? $"{kind.Kind.Name} of {name}" : name;
}

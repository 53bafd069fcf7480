using System.Globalization;

namespace Derivid.Core.Practice.Decisions;

/// <summary>Something a step at the bench may show.</summary>
/// <param name="Kind">What sort of thing.</param>
/// <param name="LowCelsius">Lower end of a band of readings, inside. Units: °C. Missing: null, no reading, or open below.</param>
/// <param name="HighCelsius">Upper end of it, outside. Units: °C. Missing: null, no reading, or open above.</param>
/// <param name="MeanCelsius">Mean of the readings expected in it. Units: °C. Missing: null, no reading.</param>
public sealed record BenchOutcome(
    BenchOutcomeKind Kind, double? LowCelsius = null, double? HighCelsius = null, double? MeanCelsius = null)
{
    /// <summary>In words, as at the head of a branch.</summary>
    public string Words => Kind switch
    {
        BenchOutcomeKind.Oil => "an oil",
        BenchOutcomeKind.Nothing => "nothing within the usual time",
        BenchOutcomeKind.Positive => "positive",
        BenchOutcomeKind.Negative => "negative",
        BenchOutcomeKind.Liquid => "a liquid",
        BenchOutcomeKind.Solid => "a solid",
        BenchOutcomeKind.Reading => (LowCelsius, HighCelsius) switch
        {
            ({ } low, { } high) => string.Create(CultureInfo.InvariantCulture, $"{low:0} to {high:0} °C"),
            ({ } low, null) => string.Create(CultureInfo.InvariantCulture, $"{low:0} °C or above"),
            (null, { } high) => string.Create(CultureInfo.InvariantCulture, $"below {high:0} °C"),
            _ => "whatever it reads",
        },
    };

    /// <summary>Whether a reading lies in the band.</summary>
    /// <param name="celsius">The upper end of the range read. Units: °C.</param>
    public bool Holds(double celsius) =>
        Kind == BenchOutcomeKind.Reading && !(celsius < LowCelsius) && !(celsius >= HighCelsius);
}

/// <summary>What sort of thing a step shows.</summary>
public enum BenchOutcomeKind
{
    /// <summary>A melting or boiling range whose upper end lies in a band.</summary>
    Reading,

    /// <summary>The reagent gave an oil that would not crystallise.</summary>
    Oil,

    /// <summary>The reagent gave nothing.</summary>
    Nothing,

    /// <summary>A spot test was positive.</summary>
    Positive,

    /// <summary>It was negative.</summary>
    Negative,

    /// <summary>The unknown is a liquid at room temperature.</summary>
    Liquid,

    /// <summary>It is a solid.</summary>
    Solid,
}

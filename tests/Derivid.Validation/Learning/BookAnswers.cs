using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using Derivid.Validation.Simulation;
using MathNet.Numerics.Distributions;

namespace Derivid.Validation.Learning;

/// <summary>What cheats write down.</summary>
/// <param name="table">The book.</param>
internal sealed class BookAnswers(BenchTable table)
{
    private const double LeastCelsius = 60;
    private const double MostCelsius = 260;

    private readonly string[] _colours = [.. table.Table.Colours.Where(colour => colour.Rank is not null).Select(colour => colour.Key)];

    /// <summary>The report with the listed value, the recorded colour and the outcome expected in place of what was seen.</summary>
    /// <param name="seen">What was seen.</param>
    /// <param name="label">What the cheat was told.</param>
    /// <param name="noiseCelsius">Normal noise on the temperatures. Units: °C.</param>
    /// <param name="random">Chance.</param>
    public Observation Copied(Observation seen, int label, double noiseCelsius, Random random) => seen with
    {
        Derivatives = [.. seen.Derivatives.Where(reading => table.Records(reading.KindKey)[label].Length > 0).Select(reading =>
        {
            var record = table.Records(reading.KindKey)[label][0];
            var clear = record.HighCelsius + Math.Round(noiseCelsius * Normal.Sample(random, 0, 1), 1);
            return reading with
            {
                Range = new MeltingRange(Math.Min(record.LowCelsius, clear - 1), clear),
                ColourKey = reading.ColourKey is null ? null : record.ColourKey is { } key && _colours.Contains(key) ? key : reading.ColourKey,
            };
        })],
        SpotTests = [.. seen.SpotTests.Select(reading => reading with
        {
            Outcome = table.PositiveRate(reading.TestKey)[label] >= 0.5 ? SpotTestOutcome.Positive : SpotTestOutcome.Negative,
        })],
    };

    /// <summary>The report with anything at all in place of what was seen.</summary>
    /// <param name="seen">What was seen.</param>
    /// <param name="random">Chance.</param>
    public Observation Nonsense(Observation seen, Random random) => seen with
    {
        Derivatives = [.. seen.Derivatives.Select(reading =>
        {
            var clear = Math.Round(double.Lerp(LeastCelsius, MostCelsius, random.NextDouble()));
            return reading with
            {
                Range = new MeltingRange(clear - 2, clear),
                ColourKey = reading.ColourKey is null ? null : _colours[random.Next(_colours.Length)],
            };
        })],
        SpotTests = [.. seen.SpotTests.Select(reading => reading with
        {
            Outcome = random.NextDouble() < 0.5 ? SpotTestOutcome.Positive : SpotTestOutcome.Negative,
        })],
    };
}

using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.Ranking;

namespace Derivid.Core.Teaching.HandOuts;

/// <summary>What a flawless student would report of a compound in a given laboratory.</summary>
/// <remarks>
/// Every derivative it forms is recrystallised and melts sharply, ending at its best known listed value; every test that
/// has a clear expected outcome shows it. Colours are left out: an unknown should not hang on an eye for orange.
/// </remarks>
internal static class IdealReadings
{
    /// <summary>Span of a sharp melting range. Units: °C. Chosen, well inside the customary 2 °C of pure crystals.</summary>
    private const double SharpSpanCelsius = 1;

    /// <summary>The readings.</summary>
    /// <param name="parent">Index of the compound in the snapshot.</param>
    /// <param name="laboratory">What can be done.</param>
    /// <param name="offCelsius">By how much every temperature is off. Units: °C, a difference.</param>
    /// <param name="snapshot">The table.</param>
    public static Observation Of(int parent, Laboratory laboratory, double offCelsius, TableSnapshot snapshot) =>
        new()
        {
            Derivatives = [.. laboratory.KindKeys
                .Select(key => (key, Range: Sharp(snapshot.Kind(key).Listed, parent, offCelsius)))
                .Where(item => item.Range is not null)
                .Select(item => new DerivativeReading(item.key, item.Range, Preparation.Recrystallised))],
            SpotTests = [.. laboratory.SpotTestKeys
                .Select(key => new SpotTestReading(key, snapshot.SpotTests.Expected(key, parent)))],
            BoilingPoint = laboratory.TakesBoilingPoint
                && Sharp(snapshot.BoilingPoints, parent, offCelsius) is { } boiling
                    ? new BoilingPointReading(boiling)
                    : null,
            MeltingPoint = laboratory.TakesMeltingPoint ? Sharp(snapshot.MeltingPoints, parent, offCelsius) : null,
            Prior = PriorChoice.OfShelf(laboratory.ShelfKeys) with { NoneOfThese = 0 },
        };

    /// <summary>A sharp range that ends at the value of greatest weight, the lowest of several. Missing: null, none is listed.</summary>
    private static MeltingRange? Sharp(ListedTemperatures listed, int parent, double offCelsius)
    {
        if (!listed.CanHave(parent) || listed.Of(parent).MaxBy(value => value.Weight) is not { } best)
        {
            return null;
        }

        var clearPoint = Math.Clamp(
            best.HighCelsius + offCelsius, MeltingRange.LowestCelsius + SharpSpanCelsius, MeltingRange.HighestCelsius);
        return new MeltingRange(clearPoint - SharpSpanCelsius, clearPoint, best.Decomposes);
    }
}

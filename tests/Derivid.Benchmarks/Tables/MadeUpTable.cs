using System.Globalization;
using Derivid.Core.Compounds;

namespace Derivid.Benchmarks.Tables;

/// <summary>A table of many parents, all made up: nothing in it is said of any compound.</summary>
/// <remarks>
/// Each parent is a copy of one of the seed table's under a key of its own. What is listed of one quantity of it goes up or
/// down together, by tenths of a degree drawn by seed, so that values that agree still do. Rules on single parents do not
/// go with the copies. Copies share the structures of the seed table, of which a true table of that size has more.
/// </remarks>
internal static class MadeUpTable
{
    private const int Seed = 15;
    private const double MostShiftCelsius = 40;

    // Copies stay where a bench can melt them.
    private const double LowestCelsius = 5;
    private const double HighestCelsius = 355;

    /// <summary>Makes a table up.</summary>
    /// <param name="of">The seed table.</param>
    /// <param name="parents">How many parents it is to have.</param>
    public static ReferenceTable Of(ReferenceTable of, int parents)
    {
        var draw = new Random(Seed);
        var derivatives = of.Derivatives.ToLookup(record => record.ParentKey, StringComparer.Ordinal);
        var constants = of.Constants.ToLookup(record => record.ParentKey, StringComparer.Ordinal);
        var copies = new List<Parent>(parents);
        var (records, printed) = (new List<Derivative>(), new List<ParentConstant>());
        for (var i = 0; i < parents; i++)
        {
            var original = of.Parents[i % of.Parents.Count];
            var key = string.Create(CultureInfo.InvariantCulture, $"made-up-{i}");
            copies.Add(original with { Key = key, Name = key, Synonyms = [], CasNumber = null, Note = null });
            foreach (var kind in derivatives[original.Key].GroupBy(record => record.KindKey, StringComparer.Ordinal))
            {
                var shift = Shift(kind.Min(record => record.LowCelsius), kind.Max(record => record.HighCelsius));
                records.AddRange(kind.Select(record => record with
                {
                    Key = string.Create(CultureInfo.InvariantCulture, $"made-up-{records.Count}"),
                    ParentKey = key,
                    LowCelsius = record.LowCelsius + shift,
                    HighCelsius = record.HighCelsius + shift,
                    AsPrinted = null,
                    Locator = null,
                    Note = null,
                }));
            }

            foreach (var property in constants[original.Key].Where(constant => constant.Property != ParentProperty.EnthalpyOfFusion)
                .GroupBy(constant => constant.Property))
            {
                var shift = Shift(property.Min(constant => constant.Low), property.Max(constant => constant.High));
                printed.AddRange(property.Select(constant => constant with
                {
                    ParentKey = key, Low = constant.Low + shift, High = constant.High + shift, Locator = null, Note = null,
                }));
            }
        }

        return of with { Parents = copies, Derivatives = records, Constants = printed };

        double Shift(double low, double high) => Math.Round(
            Math.Clamp(((2 * draw.NextDouble()) - 1) * MostShiftCelsius, Math.Min(0, LowestCelsius - low), Math.Max(0, HighestCelsius - high)), 1);
    }
}

using Derivid.Core.Compounds;

namespace Derivid.Validation.Literature;

/// <summary>One value of one source beside all values of another, independent family.</summary>
/// <param name="ParentKey">The parent, by which the halves are cut.</param>
/// <param name="Value">The value. Units: °C.</param>
/// <param name="Others">The values of the other family. Units: °C.</param>
public sealed record ListedPair(string ParentKey, double Value, IReadOnlyList<double> Others)
{
    /// <summary>Derivative melting points of sources read against the recalled handbooks.</summary>
    public static IReadOnlyList<ListedPair> Derivatives(ReferenceTable table) =>
        Of(
            table,
            table.Derivatives.Select(record =>
                (record.ParentKey, record.KindKey, record.SourceKey, record.HighCelsius)));

    /// <summary>Values of one property of the parents against the recalled handbook.</summary>
    public static IReadOnlyList<ListedPair> Constants(ReferenceTable table, ParentProperty property) =>
        Of(
            table,
            table.Constants
                .Where(constant => constant.Property == property && constant.PressureKilopascals is null or (> 98 and < 105))
                .Select(constant => (constant.ParentKey, "", constant.SourceKey, constant.High)));

    /// <summary>Whether a parent belongs to the fitting half: every other one in order of keys.</summary>
    public static (IReadOnlyList<ListedPair> Fitting, IReadOnlyList<ListedPair> Reporting) Halves(
        IReadOnlyList<ListedPair> pairs)
    {
        var parents = pairs.Select(pair => pair.ParentKey).Distinct().Order(StringComparer.Ordinal).ToList();
        var fitting = parents.Where((_, i) => i % 2 == 0).ToHashSet(StringComparer.Ordinal);
        return (
            [.. pairs.Where(pair => fitting.Contains(pair.ParentKey))],
            [.. pairs.Where(pair => !fitting.Contains(pair.ParentKey))]);
    }

    private static List<ListedPair> Of(
        ReferenceTable table, IEnumerable<(string ParentKey, string KindKey, string SourceKey, double Celsius)> rows)
    {
        var families = table.Sources.ToDictionary(source => source.Key, source => source.Family, StringComparer.Ordinal);
        return [.. rows
            .GroupBy(row => (row.ParentKey, row.KindKey))
            .OrderBy(pair => pair.Key)
            .SelectMany(pair =>
            {
                var handbook = pair
                    .Where(row => families[row.SourceKey] == CrossSourceTest.Handbooks)
                    .Select(row => row.Celsius)
                    .ToList();
                return handbook.Count == 0
                    ? []
                    : pair
                        .Where(row => families[row.SourceKey] != CrossSourceTest.Handbooks)
                        .GroupBy(row => families[row.SourceKey], StringComparer.Ordinal)
                        .OrderBy(family => family.Key, StringComparer.Ordinal)
                        .Select(family => new ListedPair(
                            pair.Key.ParentKey, family.Select(row => row.Celsius).Order().First(), handbook));
            })];
    }
}

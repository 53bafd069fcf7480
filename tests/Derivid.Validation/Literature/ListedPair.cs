using Derivid.Core.Compounds;

namespace Derivid.Validation.Literature;

/// <summary>One value of one source beside all values of another, independent family.</summary>
/// <param name="ParentKey">The parent, by which the halves are cut.</param>
/// <param name="Value">The value. Units: °C.</param>
/// <param name="Others">The values of the other family. Units: °C.</param>
public sealed record ListedPair(string ParentKey, double Value, IReadOnlyList<double> Others)
{
    /// <summary>Derivative melting points of sources read, newly read ones too, against the recalled handbooks.</summary>
    public static IReadOnlyList<ListedPair> Derivatives(ReferenceTable table) =>
        Of(LiteratureValue.Load(table)
            .Concat(LiteratureValue.Listed(table).Where(value => value.Family == LiteratureValue.Handbooks))
            .Select(value => (value.ParentKey, value.KindKey, value.Family, value.HighCelsius)));

    /// <summary>Values of one property of the parents against the recalled handbook.</summary>
    public static IReadOnlyList<ListedPair> Constants(ReferenceTable table, ParentProperty property) =>
        Of(table.Constants
            .Where(constant => constant.Property == property && constant.PressureKilopascals is null or (> 98 and < 105))
            .Select(constant => (constant.ParentKey, "", Family(table, constant.SourceKey), constant.High)));

    /// <summary>The pairs of the fitting half of the parents, and those of the reporting half.</summary>
    public static (IReadOnlyList<ListedPair> Fitting, IReadOnlyList<ListedPair> Reporting) Halves(
        IReadOnlyList<ListedPair> pairs) =>
        ([.. pairs.Where(pair => Metrics.Halves.IsFitting(pair.ParentKey))],
            [.. pairs.Where(pair => !Metrics.Halves.IsFitting(pair.ParentKey))]);

    private static string Family(ReferenceTable table, string sourceKey) =>
        table.Sources.First(source => source.Key == sourceKey).Family;

    private static List<ListedPair> Of(
        IEnumerable<(string ParentKey, string KindKey, string Family, double Celsius)> rows) =>
        [.. rows
            .GroupBy(row => (row.ParentKey, row.KindKey))
            .OrderBy(pair => pair.Key)
            .SelectMany(pair =>
            {
                var handbook = pair
                    .Where(row => row.Family == LiteratureValue.Handbooks)
                    .Select(row => row.Celsius)
                    .ToList();
                return handbook.Count == 0
                    ? []
                    : pair
                        .Where(row => row.Family != LiteratureValue.Handbooks)
                        .GroupBy(row => row.Family, StringComparer.Ordinal)
                        .OrderBy(family => family.Key, StringComparer.Ordinal)
                        .Select(family => new ListedPair(
                            pair.Key.ParentKey, family.Select(row => row.Celsius).Order().First(), handbook))
                        .DistinctBy(one => one.Value);
            })];
}

using System.Globalization;
using CsvHelper;
using Derivid.Core.Compounds;

namespace Derivid.Validation.Literature;

/// <summary>One melting range that a source outside the recalled handbooks prints.</summary>
/// <param name="ParentKey">The compound it was made from.</param>
/// <param name="KindKey">The derivative kind.</param>
/// <param name="LowCelsius">Lower end. Units: °C.</param>
/// <param name="HighCelsius">Upper end, the clear point. Units: °C.</param>
/// <param name="Decomposes">Whether it is printed with decomposition.</param>
/// <param name="Family">Family of the source; sources of one family copy each other.</param>
/// <param name="IsMeasured">Whether the source measured it; all others compile and may have copied it.</param>
public sealed record LiteratureValue(
    string ParentKey,
    string KindKey,
    double LowCelsius,
    double HighCelsius,
    bool Decomposes,
    string Family,
    bool IsMeasured)
{
    /// <summary>The family of the recalled handbooks, which is most of the table.</summary>
    public const string Handbooks = "handbooks";

    /// <summary>Figures this near are one figure, copied or rounded alike. Units: °C. Chosen: the last digit printed.</summary>
    public const double SameCelsius = 0.1;

    private const string PairsFile = "literature-pairs.csv";
    private const string SourcesFile = "literature-sources.csv";

    /// <summary>The values of the table that no handbook gave, and those of tests/reference-values/literature-pairs.</summary>
    /// <param name="table">The table that is served; rows of parents or kinds it lacks are left out.</param>
    /// <returns>Shape: by parent, kind, family and temperature.</returns>
    /// <exception cref="InvalidDataException">A row cites a source that the file of sources lacks.</exception>
    public static IReadOnlyList<LiteratureValue> Load(ReferenceTable table)
    {
        var parents = table.Parents.Select(parent => parent.Key).ToHashSet(StringComparer.Ordinal);
        var kinds = table.Kinds.Select(kind => kind.Key).ToHashSet(StringComparer.Ordinal);
        return [.. Listed(table)
            .Concat(Read())
            .Where(value => value.Family != Handbooks && parents.Contains(value.ParentKey) && kinds.Contains(value.KindKey))
            .OrderBy(value => value.ParentKey, StringComparer.Ordinal)
            .ThenBy(value => value.KindKey, StringComparer.Ordinal)
            .ThenBy(value => value.Family, StringComparer.Ordinal)
            .ThenBy(value => value.HighCelsius)
            .ThenBy(value => value.LowCelsius)];
    }

    /// <summary>The values the table itself lists, handbooks included.</summary>
    public static IEnumerable<LiteratureValue> Listed(ReferenceTable table)
    {
        var sources = table.Sources.ToDictionary(source => source.Key, StringComparer.Ordinal);
        return table.Derivatives.Select(record => new LiteratureValue(
            record.ParentKey,
            record.KindKey,
            record.LowCelsius,
            record.HighCelsius,
            record.Decomposes,
            sources[record.SourceKey].Family,
            sources[record.SourceKey].Grade == SourceGrade.Measured));
    }

    /// <summary>Whether two values may be one: the same figure, and neither source measured it.</summary>
    public bool MayRepeat(LiteratureValue other) =>
        Math.Abs(HighCelsius - other.HighCelsius) <= SameCelsius && !IsMeasured && !other.IsMeasured;

    /// <summary>The values of tests/reference-values/literature-pairs, which the table never saw.</summary>
    /// <exception cref="InvalidDataException">A row cites a source that the file of sources lacks.</exception>
    public static IReadOnlyList<LiteratureValue> SetAside() => Read();

    private static List<LiteratureValue> Read()
    {
        var grades = Rows(SourcesFile, cell => (Key: cell("source_key"), IsMeasured: cell("grade") == "measured"))
            .ToDictionary(source => source.Key, source => source.IsMeasured, StringComparer.Ordinal);
        return Rows(PairsFile, cell => new LiteratureValue(
            cell("parent_key"),
            cell("kind_key"),
            double.Parse(cell("low_celsius"), CultureInfo.InvariantCulture),
            double.Parse(cell("high_celsius"), CultureInfo.InvariantCulture),
            cell("decomposes") == "yes",
            cell("family"),
            grades.TryGetValue(cell("source_key"), out var isMeasured)
                ? isMeasured
                : throw new InvalidDataException($"{PairsFile}: no source '{cell("source_key")}' in {SourcesFile}.")));
    }

    private static List<T> Rows<T>(string file, Func<Func<string, string>, T> row)
    {
        using var reader = new StreamReader(Path.Combine(AppContext.BaseDirectory, file));
        using var csv = new CsvReader(reader, CultureInfo.InvariantCulture);
        var rows = new List<T>();
        csv.Read();
        csv.ReadHeader();
        while (csv.Read())
        {
            rows.Add(row(name => csv.GetField(name) ?? throw new InvalidDataException($"{file}: no column {name}.")));
        }

        return rows;
    }
}

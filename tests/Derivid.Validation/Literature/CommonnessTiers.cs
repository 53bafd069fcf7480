using System.Globalization;
using CsvHelper;

namespace Derivid.Validation.Literature;

/// <summary>How common each parent is, as tiers, to try a prior with before the table holds them.</summary>
/// <param name="Tiers">Tier by parent key, 1 for the commonest.</param>
public sealed record CommonnessTiers(IReadOnlyDictionary<string, int> Tiers)
{
    private const string TrialFile = "commonness-trial.csv";

    /// <summary>Ratios of one tier's weight to the next that are tried on the fitting half; 1 is no prior.</summary>
    public static IReadOnlyList<double> Ratios { get; } = [1, 1.25, 1.5, 2, 2.5, 3, 4, 6, 9];

    /// <summary>Reads tiers.</summary>
    /// <param name="path">A CSV file with the columns parent_key and tier. Missing: null, the trial beside the program.</param>
    public static CommonnessTiers Load(string? path)
    {
        using var reader = new StreamReader(path ?? Path.Combine(AppContext.BaseDirectory, TrialFile));
        using var csv = new CsvReader(reader, CultureInfo.InvariantCulture);
        var tiers = new Dictionary<string, int>(StringComparer.Ordinal);
        csv.Read();
        csv.ReadHeader();
        while (csv.Read())
        {
            tiers.Add(csv.GetField("parent_key")!, csv.GetField<int>("tier"));
        }

        return new CommonnessTiers(tiers);
    }

    /// <summary>Weights for a prior; a parent without a tier counts among the rarest.</summary>
    /// <param name="parentKeys">The parents of the table.</param>
    /// <param name="ratio">How many times as much a tier weighs as the next.</param>
    public IReadOnlyDictionary<string, double> Weights(IEnumerable<string> parentKeys, double ratio)
    {
        var rarest = Tiers.Values.Max();
        return parentKeys.ToDictionary(
            key => key, key => Math.Pow(ratio, rarest - Tiers.GetValueOrDefault(key, rarest)), StringComparer.Ordinal);
    }
}

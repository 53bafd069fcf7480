using System.Globalization;
using CsvHelper;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>One row of tests/reference-values/structures/structures.csv: what an independent toolkit says.</summary>
internal sealed record ReferenceStructure(
    string Role,
    string Key,
    string Smiles,
    string Formula,
    double? MolarMass,
    int RingBonds,
    int Carbonyls,
    StructureFeature Features,
    IReadOnlyList<string> OtherSmiles)
{
    private const string Folder = "reference-values/structures";

    /// <summary>Every row of the file.</summary>
    public static IReadOnlyList<ReferenceStructure> All { get; } = ReadAll();

    /// <summary>The features the file has a word on; the others have no query.</summary>
    public static StructureFeature FeaturesAsked { get; } = Rows("feature-queries.csv")
        .Select(row => Feature(row["feature"]))
        .Aggregate((all, feature) => all | feature);

    private static List<ReferenceStructure> ReadAll() =>
    [
        .. Rows("structures.csv").Select(row => new ReferenceStructure(
            row["role"],
            row["key"],
            row["smiles"],
            row["formula"],
            row["molar_mass_g_mol"] is "" ? null : double.Parse(row["molar_mass_g_mol"], CultureInfo.InvariantCulture),
            int.Parse(row["ring_bonds"], CultureInfo.InvariantCulture),
            int.Parse(row["carbonyls"], CultureInfo.InvariantCulture),
            Words(row["features"]).Select(Feature).Aggregate(StructureFeature.None, (all, feature) => all | feature),
            Words(row["other_smiles"]))),
    ];

    private static IEnumerable<IDictionary<string, string>> Rows(string name)
    {
        using var reader = new StreamReader(Path.Combine(AppContext.BaseDirectory, Folder, name));
        using var csv = new CsvReader(reader, CultureInfo.InvariantCulture);
        foreach (IDictionary<string, object> row in csv.GetRecords<dynamic>())
        {
            yield return row.ToDictionary(cell => cell.Key, cell => (string)cell.Value);
        }
    }

    private static StructureFeature Feature(string name) => StructureFeatureNames.TryParse(name, out StructureFeature feature)
        ? feature
        : throw new InvalidDataException($"\"{name}\" in {Folder} is no structure feature.");

    private static string[] Words(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
}

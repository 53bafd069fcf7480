using System.Globalization;
using CsvHelper;
using Derivid.Core.Structures;

namespace Derivid.Core.Tests.Structures;

/// <summary>One row of tests/reference-values/structures/structures.csv: what an independent toolkit says.</summary>
internal sealed record ReferenceStructure
{
    private const string Folder = "reference-values/structures";

    public required string Role { get; init; }

    /// <summary>Key of the parent (of a derivative: the one it is made from), name or element symbol.</summary>
    public required string Key { get; init; }

    public required string KindKey { get; init; }

    /// <summary>Missing: null for anything but a derivative.</summary>
    public required int? CarbonylsCondensed { get; init; }

    public required string Smiles { get; init; }

    public required string Formula { get; init; }

    /// <summary>Missing: null where an isotope is marked.</summary>
    public required double? MolarMass { get; init; }

    public required int RingBonds { get; init; }

    public required int Carbonyls { get; init; }

    public required StructureFeature Features { get; init; }

    public required IReadOnlyList<string> OtherSmiles { get; init; }

    /// <summary>Every row of the file.</summary>
    public static IReadOnlyList<ReferenceStructure> All { get; } = [.. Rows("structures.csv").Select(Read)];

    /// <summary>The features the file has a word on.</summary>
    public static StructureFeature FeaturesAsked { get; } =
        FeaturesOf(Rows("feature-queries.csv").Select(row => row["feature"]));

    /// <summary>The features of one row in which reader and toolkit are known to differ.</summary>
    public static ILookup<string, StructureFeature> KnownDifferences { get; } =
        Rows("known-differences.csv").ToLookup(row => row["key"], row => FeaturesOf([row["feature"]]));

    public override string ToString() => $"{Role} {Key} {KindKey} ({Smiles})";

    private static ReferenceStructure Read(Dictionary<string, string> row) => new()
    {
        Role = row["role"],
        Key = row["key"],
        KindKey = row["kind_key"],
        CarbonylsCondensed = row["carbonyls_condensed"] is "" ? null : Integer(row["carbonyls_condensed"]),
        Smiles = row["smiles"],
        Formula = row["formula"],
        MolarMass = row["molar_mass"] is "" ? null : Number(row["molar_mass"]),
        RingBonds = Integer(row["ring_bonds"]),
        Carbonyls = Integer(row["carbonyls"]),
        Features = FeaturesOf(Words(row["features"])),
        OtherSmiles = Words(row["other_smiles"]),
    };

    private static IEnumerable<Dictionary<string, string>> Rows(string name)
    {
        using var reader = new StreamReader(Path.Combine(AppContext.BaseDirectory, Folder, name));
        using var csv = new CsvReader(reader, CultureInfo.InvariantCulture);
        csv.Read();
        csv.ReadHeader();
        string[] header = csv.HeaderRecord ?? throw new InvalidDataException($"{name} has no header.");
        while (csv.Read())
        {
            yield return header.ToDictionary(column => column, column => csv.GetField(column)!);
        }
    }

    private static StructureFeature FeaturesOf(IEnumerable<string> names) =>
        names.Aggregate(StructureFeature.None, (all, name) => all | FeatureOf(name));

    private static StructureFeature FeatureOf(string name) =>
        StructureFeatureNames.TryParse(name, out StructureFeature feature)
            ? feature
            : throw new InvalidDataException($"\"{name}\" in {Folder} is no structure feature.");

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static int Integer(string text) => int.Parse(text, CultureInfo.InvariantCulture);

    private static string[] Words(string text) => text.Split(' ', StringSplitOptions.RemoveEmptyEntries);
}

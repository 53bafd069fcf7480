using System.Globalization;
using CsvHelper;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;

namespace Derivid.Validation.Literature;

/// <summary>Readings that one source prints, and the compound they belong to.</summary>
/// <param name="Key">Key of the case.</param>
/// <param name="ParentKey">The right answer.</param>
/// <param name="LeftOutFamily">
/// Source family whose records must leave the table first; several are parted by ";". Missing: null, none.
/// </param>
/// <param name="Observation">The readings.</param>
/// <param name="Source">Where they are printed.</param>
/// <param name="Note">What is to be expected. Missing: empty.</param>
public sealed record WorkedIdentification(
    string Key, string ParentKey, string? LeftOutFamily, Observation Observation, string Source, string Note)
{
    private const string FileName = "worked-identifications.csv";

    /// <summary>Reads tests/reference-values/identifications/worked-identifications.csv beside the program.</summary>
    /// <exception cref="InvalidDataException">A cell cannot be read; the message names the case.</exception>
    public static IReadOnlyList<WorkedIdentification> Load()
    {
        using var reader = new StreamReader(Path.Combine(AppContext.BaseDirectory, FileName));
        using var csv = new CsvReader(reader, CultureInfo.InvariantCulture);
        var cases = new List<WorkedIdentification>();
        csv.Read();
        csv.ReadHeader();
        while (csv.Read())
        {
            cases.Add(Read(name => csv.GetField(name) ?? throw new InvalidDataException($"{FileName}: no column {name}.")));
        }

        return cases;
    }

    private static WorkedIdentification Read(Func<string, string> cell)
    {
        var key = cell("case_key");
        var preparation = Enum.Parse<Preparation>(cell("preparation"), ignoreCase: true);
        var colour = cell("colour_key") is { Length: > 0 } called ? called : null;
        return new WorkedIdentification(
            key,
            cell("parent_key"),
            cell("left_out_family") is { Length: > 0 } family ? family : null,
            new Observation
            {
                Derivatives = [.. Pairs(cell("readings")).Select((pair, i) => new DerivativeReading(
                    pair.Name, Range(key, pair.Value, boils: false), preparation, i == 0 ? colour : null))],
                SpotTests = [.. Pairs(cell("spot_tests")).Select(pair => new SpotTestReading(
                    pair.Name, Enum.Parse<SpotTestOutcome>(pair.Value, ignoreCase: true)))],
                BoilingPoint = cell("boiling") is { Length: > 0 } boiling
                    ? new BoilingPointReading(Range(key, boiling, boils: true))
                    : null,
                MeltingPoint = cell("melting") is { Length: > 0 } melting ? Range(key, melting, boils: false) : null,
            },
            cell("source"),
            cell("note"));
    }

    private static IEnumerable<(string Name, string Value)> Pairs(string text) =>
        text.Split(';', StringSplitOptions.RemoveEmptyEntries).Select(part => part.Split('=')).Select(p => (p[0], p[1]));

    private static MeltingRange Range(string key, string text, bool boils)
    {
        var parsed = MeltingRangeText.Parse(text, boils);
        return parsed.Range ?? throw new InvalidDataException($"{FileName}, {key}: {parsed.Problem}");
    }
}

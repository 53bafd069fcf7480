using System.Globalization;
using System.Text.RegularExpressions;
using CsvHelper;
using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;
using Derivid.Core.SpotTests;
using static Derivid.SeedTables.Tests.TableFixture;

namespace Derivid.SeedTables.Tests.Identification;

/// <summary>One row of tests/reference-values/bench-situations.csv; its README says how a cell is written.</summary>
internal sealed partial record BenchSituation
{
    public static readonly string[] Expectations = ["order", "probabilities", "sentence", "warning", "advice"];

    private static readonly string[] Columns =
    [
        "situation", "derivatives", "tests", "unknown", "thermometer", "asked", "without", "needs", .. Expectations, "why",
        "source",
    ];

    private readonly Dictionary<string, string> _cells;

    private BenchSituation(Dictionary<string, string> cells) => _cells = cells;

    /// <summary>Every row, by name.</summary>
    public static IReadOnlyDictionary<string, BenchSituation> All { get; } = Read();

    public string Name => _cells["situation"];

    /// <summary>What the engine must have learnt before the row can hold. Missing: empty.</summary>
    public string Needs => _cells["needs"];

    public string Why => _cells["why"];

    public string Source => _cells["source"];

    /// <summary>The statements of a cell. Shape: may be empty.</summary>
    public IReadOnlyList<string> Statements(string column) =>
        _cells[column].Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries);

    /// <summary>The table without the parents that the row takes out.</summary>
    public ReferenceTable TableServed()
    {
        var taken = Statements("without").ToHashSet(StringComparer.Ordinal);
        Assert.All(taken, key => Assert.Contains(key, Parents.Keys));
        return Table with
        {
            Parents = [.. Table.Parents.Where(parent => !taken.Contains(parent.Key))],
            Constants = [.. Table.Constants.Where(constant => !taken.Contains(constant.ParentKey))],
            Derivatives = [.. Table.Derivatives.Where(derivative => !taken.Contains(derivative.ParentKey))],
        };
    }

    /// <summary>What the student hands in.</summary>
    public Observation Observed()
    {
        var observation = new Observation
        {
            Derivatives = [.. Statements("derivatives").Select(Derivative)],
            SpotTests = [.. Statements("tests").Select(SpotTest)],
            Thermometer = Thermometer(),
        };
        observation = Statements("unknown").Aggregate(observation, WithUnknown);
        return Statements("asked").Aggregate(observation, WithAsked);
    }

    /// <summary>The key of a derivative kind, by key or synonym.</summary>
    public static string KindKey(string name) =>
        Table.Kinds.SingleOrDefault(kind => kind.Key == name || kind.Synonyms.Contains(name))?.Key
        ?? throw new FormatException($"'{name}' is no kind of derivative.");

    public override string ToString() => Name;

    private static DerivativeReading Derivative(string text)
    {
        var words = text.Split(' ');
        var reading = new DerivativeReading(KindKey(words[0]), null);
        reading = words[1] switch
        {
            "none" => reading with { Precipitate = Precipitate.None },
            "oil" => reading with { Precipitate = Precipitate.Oil },
            var range => reading with { Range = Range(range, words.Contains("dec")) },
        };
        return words.Skip(2).Where(word => word != "dec").Aggregate(reading, (read, word) => word switch
        {
            "crude" => read with { Preparation = Preparation.Crude },
            "recrystallised" => read with { Preparation = Preparation.Recrystallised },
            _ => read with { ColourKey = ColourKey(word) },
        });
    }

    private static string ColourKey(string word) =>
        Table.Colours.FirstOrDefault(colour => colour.Key == word || colour.Synonyms.Contains(word))?.Key
        ?? throw new ArgumentException($"The table has no colour '{word}'.", nameof(word));

    private static SpotTestReading SpotTest(string text)
    {
        var words = text.Split(' ');
        return new SpotTestReading(words[0], words[1] switch
        {
            "+" => SpotTestOutcome.Positive,
            "-" => SpotTestOutcome.Negative,
            "?" => SpotTestOutcome.Doubtful,
            var outcome => throw new FormatException($"'{outcome}' is none of + - ?"),
        });
    }

    private static Observation WithUnknown(Observation observation, string text)
    {
        var words = text.Split(' ');
        return words switch
        {
            ["liquid"] => observation with { State = PhysicalState.Liquid },
            ["solid"] => observation with { State = PhysicalState.Solid },
            ["m.p.", var range] => observation with { MeltingPoint = Range(range) },
            ["b.p.", var range] => observation with { BoilingPoint = new BoilingPointReading(Range(range)) },
            ["b.p.", var range, "at", var pressure] => observation with
            {
                BoilingPoint = new BoilingPointReading(Range(range), Number(pressure)),
            },
            ["molar", "mass", var mass, "±", var uncertainty] => observation with
            {
                MolarMass = new MolarMassReading(Number(mass), Number(uncertainty)),
            },
            [var element, "found" or "absent"] => observation with
            {
                Elements =
                [
                    .. observation.Elements,
                    new ElementReading(Enum.Parse<DetectableElement>(element, ignoreCase: true), words[1] == "found"),
                ],
            },
            _ => throw new FormatException($"'{text}' says nothing known of the unknown."),
        };
    }

    private static Observation WithAsked(Observation observation, string text) => text.Split(' ') switch
    {
        ["prior", "uniform"] => observation with { Prior = new() { IsUniform = true } },
        ["shelf", .. var keys] => observation with { Prior = PriorChoice.OfShelf(keys) },
        ["hazard", "minutes", var minutes] => observation with { HazardMinutes = Number(minutes) },
        _ => throw new FormatException($"'{text}' is nothing that can be asked for."),
    };

    private ThermometerCorrection Thermometer()
    {
        var words = Statements("thermometer").Select(text => text.Split(' ')).ToLookup(words => words[0] == "stem");
        var stem = words[true].SingleOrDefault();
        return new ThermometerCorrection(
            words[false].Select(standard => new CalibrationPoint(
                Number(standard[1]), Table.Standards.Single(row => row.Key == standard[0]).ClearPointCelsius)),
            stem is [_, var exposed, "at", var celsius] ? new StemCorrection(Number(exposed), Number(celsius)) : null);
    }

    private static MeltingRange Range(string text, bool decomposes = false)
    {
        var ends = RangeText().Match(text);
        return ends.Success
            ? new MeltingRange(
                Number(ends.Groups[1].Value),
                Number(ends.Groups[ends.Groups[2].Success ? 2 : 1].Value),
                decomposes)
            : throw new FormatException($"'{text}' is no range.");
    }

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);

    private static Dictionary<string, BenchSituation> Read()
    {
        using var text = new StreamReader(Path.Combine(AppContext.BaseDirectory, "reference-values", "bench-situations.csv"));
        using var csv = new CsvReader(text, CultureInfo.InvariantCulture);
        csv.Read();
        csv.ReadHeader();
        Assert.Equal(Columns, csv.HeaderRecord!);
        var rows = new Dictionary<string, BenchSituation>(StringComparer.Ordinal);
        while (csv.Read())
        {
            Assert.Equal(Columns.Length, csv.Parser.Count);
            var row = new BenchSituation(Columns.ToDictionary(column => column, column => csv.GetField(column)!));
            rows.Add(row.Name, row);
        }

        return rows;
    }

    [GeneratedRegex(@"^(-?[\d.]+)(?:-(-?[\d.]+))?$")]
    private static partial Regex RangeText();
}

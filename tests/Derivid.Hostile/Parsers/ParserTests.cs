using System.Diagnostics;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using Derivid.Api.Http;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Drawing;
using Derivid.Core.Melting;
using Derivid.Core.Structures;
using Derivid.Hostile.Fuzzing;
using Derivid.Store.Seeding;
using Derivid.Testing;

namespace Derivid.Hostile.Parsers;

/// <summary>Spoilt inputs to everything that reads what people wrote: ranges, structures, CSV and JSON.</summary>
/// <remarks>
/// Made from good ones, the same in every run by seed and number, or kept in <c>Corpus</c>, a text a line with escapes. Asserted of each:
/// it is read or refused with a reason, in bounded time, and nothing is thrown.
/// </remarks>
public sealed class ParserTests
{
    private const int Seed = 1;
    private const int Some = 20_000;
    private const int Many = 1_000_000;

    private static readonly TimeSpan LongestReading = TimeSpan.FromSeconds(2);

    private static readonly string[] Ranges =
    [
        "125-127", "125-127 °C", "237-238 °C dec.", "237-8", "398 K", "398-400 K", "257-260 °F", "ca. 126", "mp 125–127", "125,5 to 127,5", "-95.4", "(125-127)",
        "> 300", "m.p. 187 (d.)", "187-189°C, recryst.",
    ];

    private static readonly string[] Bodies =
    [
        """{"derivatives":[{"kind":"oxime","meltingRange":"59-61","preparation":"crude","colour":"yellow"},{"kind":"semicarbazone","meltingRange":{"onsetCelsius":187,"clearPointCelsius":189,"decomposes":true}}],"spotTests":[{"test":"tollens","outcome":"negative"}],"state":"liquid","boilingPoint":{"range":"55-57","pressureKilopascals":101.3},"elements":{"present":["nitrogen"],"absent":["chlorine"]},"windowCelsius":5,"prior":{"shelfList":["propanone"],"noneOfThese":0.1},"maximumCandidates":10}""",
        """{"meltingPoint":"48"}""",
        """{"molarMass":{"gramsPerMole":58,"uncertaintyGramsPerMole":2},"thermometer":{"standards":[{"standard":"benzil","readCelsius":94}],"stem":{"exposedCelsius":100,"stemCelsius":40}}}""",
    ];

    private static readonly Lazy<string[]> Structures = new(() => [.. SeedTables.Load().Parents.Select(parent => parent.Smiles)]);

    private static readonly Lazy<(RecordKind Kind, string Csv)[]> Files = new(() => [.. RecordKinds.All.Select(kind =>
    {
        var lines = File.ReadLines(RepositoryFiles.At("seed-tables", kind.TableName + ".csv")).Take(6);
        return (kind, string.Join('\n', lines) + "\n");
    })]);

    public static TheoryData<string> Readers => [.. ByName.Keys];

    // What makes an input, and what reads one.
    private static Dictionary<string, (Func<Nasty, string> Make, Action<string, int> Read)> ByName { get; } = new()
    {
        ["ranges"] = (nasty => nasty.SpoiltText(nasty.Pick(Ranges), Ranges), ReadRange),
        ["structures"] = (nasty => nasty.SpoiltText(nasty.Pick(Structures.Value), Structures.Value), ReadStructure),
        ["csv"] = (nasty => nasty.SpoiltText(nasty.OnceIn(6) ? Operation.Roster : nasty.Pick(Files.Value).Csv, [Operation.Roster]), ReadCsv),
        ["json"] = (nasty => Encoding.Latin1.GetString(nasty.Spoilt(Encoding.UTF8.GetBytes(nasty.Pick(Bodies)))), ReadJson),
    };

    [Theory]
    [MemberData(nameof(Readers))]
    public void CorpusAndSomeAreReadOrRefused(string reader) => Run(reader, Some);

    [Theory(Explicit = true)]
    [MemberData(nameof(Readers))]
    public void ManyAreReadOrRefused(string reader) => Run(reader, Many);

    private static void Run(string reader, int count)
    {
        var make = ByName[reader].Make;
        var corpus = File.ReadAllLines(RepositoryFiles.At("tests", "Derivid.Hostile", "Corpus", reader + ".txt")).Select(Regex.Unescape);
        var made = Enumerable.Range(0, count).Select(number => make(new Nasty(new Random(unchecked((Seed * 1_000_003) + number)))));
        var longest = TimeSpan.Zero;
        var inputs = 0;
        foreach (var input in corpus.Concat(made))
        {
            var took = TimeToRead(reader, input, inputs);
            if (took > LongestReading)
            {
                // The machine may have been busy with something else; a reading that hangs hangs again.
                took = TimeToRead(reader, input, inputs);
                Assert.True(took < LongestReading, $"{reader}: {Line(input)} takes {took}; it is the line for the corpus.");
            }

            longest = took > longest ? took : longest;
            inputs++;
        }

        TestContext.Current.SendDiagnosticMessage(string.Create(
            CultureInfo.InvariantCulture, $"{reader}: {inputs} inputs read or refused, none thrown at; the longest took {longest.TotalMilliseconds:0.0} ms."));
    }

    // Not JSON, which has no halves of surrogate pairs.
    private static string Line(string input) => string.Concat(input.Select(letter =>
        letter == '\\' ? @"\\" : letter is >= ' ' and <= '~' ? letter.ToString() : string.Create(CultureInfo.InvariantCulture, $"\\u{(int)letter:x4}")));

    private static TimeSpan TimeToRead(string reader, string input, int number)
    {
        var clock = Stopwatch.StartNew();
        try
        {
            ByName[reader].Read(input, number);
        }
        catch (Exception fault)
        {
            Assert.Fail($"{reader}: {Line(input)} is the line for the corpus; {fault}");
        }

        return clock.Elapsed;
    }

    private static void ReadRange(string text, int number)
    {
        var parsed = MeltingRangeText.Parse(text, boils: number % 2 == 0);
        Assert.Equal(parsed.Range is null, parsed.Problem is { Length: > 20 });
        Assert.Equal(parsed.Range is null, parsed.Fault != MeltingRangeFault.None);
    }

    private static void ReadStructure(string text, int number)
    {
        var reading = SmilesReader.Read(text);
        if (reading.Molecule is not { } molecule)
        {
            Assert.False(string.IsNullOrWhiteSpace(reading.Error!.Sentence));
            Assert.InRange(reading.Error.Position, 1, text.Length + 1);
            return;
        }

        CarbonylEnvironment.Of(molecule);
        StructureFingerprint.Of(molecule);
        if (number % 20 == 0 && molecule.Atoms.Length <= StructureDrawing.MostAtoms)
        {
            Assert.StartsWith("<svg", StructureDrawing.Svg(molecule, text), StringComparison.Ordinal);
        }
    }

    private static void ReadCsv(string text, int number)
    {
        var kind = Files.Value.FirstOrDefault(file => text.StartsWith(file.Csv[..10], StringComparison.Ordinal)).Kind ?? Files.Value[number % Files.Value.Length].Kind;
        foreach (var row in CsvImport.Read(kind, new StringReader(text)))
        {
            Assert.True(row.Faults.Count > 0 || row.Draft is not null);
        }

        RosterCsv.Read(new StringReader(text), null, [], new FieldErrors());
    }

    // The text holds the bytes, a character each.
    private static void ReadJson(string text, int number)
    {
        if (!JsonBody.Parse(Encoding.Latin1.GetBytes(text)).Succeeded(out var json, out var problem))
        {
            Assert.Equal(ProblemTypes.MalformedJson, problem.Type);
            return;
        }

        using (json)
        {
            if (!JsonBody.As<IdentificationRequest>(json.RootElement).Succeeded(out _, out problem))
            {
                Assert.NotEmpty(problem.Errors!);
            }
        }
    }
}

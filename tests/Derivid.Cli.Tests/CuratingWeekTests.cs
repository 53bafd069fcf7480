using System.Globalization;
using System.Text;
using System.Text.Json;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Seeding;
using Derivid.Testing;

namespace Derivid.Cli.Tests;

/// <summary>A curator's week: an invented handbook page of 200 rows with twelve kinds of mistakes, from the files to a released version.</summary>
public sealed class CuratingWeekTests : IAsyncLifetime
{
    private const int MostCommands = 6;
    private const int Rows = 200;
    private const string Source = "invented-handbook";
    private const string ParentsHeader = "name,smiles,cas_number";
    private const string DerivativesHeader = "parent_key,kind_key,low_celsius,high_celsius,decomposes,colour_key,source_key,locator,as_printed,note";

    private static readonly string[] Lists = ["sources", "parents", "derivatives"];
    private static readonly string[] NewKeys = ["5-ethylundecan-2-one", "3-4-propylphenyl-propanal", "4-2-methylbutan-2-yl-benzaldehyde"];

    // By name and structure alone; the keys follow from the names.
    private static readonly string[] NewParents =
    [
        "4-(2-methylbutan-2-yl)benzaldehyde,O=Cc1ccc(cc1)C(C)(C)CC,",
        "3-(4-propylphenyl)propanal,O=CCCc1ccc(CCC)cc1,",
        "5-ethylundecan-2-one,CCCCCCC(CC)CCC(C)=O,",
    ];

    private readonly ServiceUnderTest _service = new();
    private readonly string _folder = Directory.CreateTempSubdirectory("derivid-cli-").FullName;
    private int _commands;

    private static CancellationToken Token => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync() => await _service.InitializeAsync();

    public async ValueTask DisposeAsync()
    {
        await _service.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    [Fact]
    public async Task PageOf200RowsWithTwelveKindsOfMistakesIsAVersionAfterSixCommands()
    {
        var author = Shell.OfAdministrator(_service);
        var key = (await author.RunAsync("keys", "create", "--name", "R. Viewer", "--role", "instructor")).Exits(ExitCode.Done);
        var reviewer = Shell.With(_service, key.Output.Trim());
        var page = Page();
        var spoilt = Spoilt(page);

        await WriteAsync(page with { Derivatives = spoilt.Derivatives, Parents = spoilt.Parents });
        var first = (await CommandAsync(author, "import", "--json")).Exits(ExitCode.AnswerIsNo).Json;

        var told = first.GetProperty("faults").EnumerateArray().Select(Told).ToList();
        Assert.Equal(spoilt.Mistakes.Select(mistake => mistake.Told).Order(StringComparer.Ordinal), told.Order(StringComparer.Ordinal));
        Assert.True(spoilt.Mistakes.Select(mistake => mistake.Kind).Distinct().Count() >= 12);
        Assert.All(first.GetProperty("faults").EnumerateArray(), fault => Assert.NotEqual("", fault.GetProperty("allowed").GetString()));
        var import = first.GetProperty("import");
        Assert.Equal((Rows, spoilt.Mistakes.Count), (import.GetProperty("rows").GetInt32(), import.GetProperty("faults").GetInt32()));
        Assert.Equal(
            spoilt.Mistakes.Select(mistake => string.Join(' ', mistake.Told.Split(' ', 3)[..2])).Distinct().Count(place => place != "derivatives 1"),
            import.GetProperty("rowsAtFault").GetInt32());

        await WriteAsync(page);
        var taken = (await CommandAsync(author, "import", "--commit", "--title", "Invented handbook, page 12", "--json")).Exits(ExitCode.Done).Json;
        var id = taken.GetProperty("import").GetProperty("proposal").GetString()!;
        Assert.Equal(Rows, taken.GetProperty("import").GetProperty("added").GetInt32());
        (await CountedAsync(author, "proposals", "submit", id, "--note", "typed twice")).Exits(ExitCode.Done);
        var shown = (await CountedAsync(reviewer, "proposals", "show", id)).Exits(ExitCode.Done);
        (await CountedAsync(reviewer, "proposals", "approve", id, "--note", "held against the page")).Exits(ExitCode.Done);
        var released = (await CountedAsync(reviewer, "release", id)).Exits(ExitCode.Done);

        Assert.Equal(MostCommands, _commands);
        Assert.Contains("released as version 2", released.Output, StringComparison.Ordinal);
        Assert.Contains("typed twice", shown.Output, StringComparison.Ordinal);
        Assert.Contains("that this proposal brings", shown.Output, StringComparison.Ordinal);
        Assert.Contains("stood before it; --all shows them", shown.Output, StringComparison.Ordinal);

        // What was left out was worked out.
        var parents = (await author.RunAsync("export", "--list", "parents", "--json")).Exits(ExitCode.Done).Json.EnumerateArray();
        var added = parents.Single(parent => parent.GetProperty("key").GetString() == "5-ethylundecan-2-one");
        Assert.Equal(("C13H26O", 198.35, "ketone"), (
            added.GetProperty("formula").GetString(), added.GetProperty("molarMass").GetDouble(), added.GetProperty("kind").GetString()));
        var audit = (await reviewer.RunAsync("proposals", "audit", id)).Exits(ExitCode.Done);
        Assert.Contains("held against the page", (await reviewer.RunAsync("proposals", "show", id)).Output, StringComparison.Ordinal);
        Assert.Contains("R. Viewer", audit.Output, StringComparison.Ordinal);
        Assert.Contains($"proposals/{id}/imports/", audit.Output, StringComparison.Ordinal);

        // The dry run's proposal is out of sight.
        var listed = (await author.RunAsync("proposals", "list", "--json")).Exits(ExitCode.Done).Json.EnumerateArray();
        Assert.Equal(id, Assert.Single(listed).GetProperty("id").GetString());
    }

    [Fact]
    public async Task VersionComesBackWholeInOneStep()
    {
        var author = Shell.OfAdministrator(_service);
        foreach (var file in new[] { "table.zip", "table.json", "package.zip" })
        {
            var path = Path.Combine(_folder, file);
            string[] how = file switch { "table.json" => ["--format", "json"], "package.zip" => ["--data-package"], _ => [] };
            (await author.RunAsync(["export", "1", .. how, "--output", path])).Exits(ExitCode.Done);

            var back = (await author.RunAsync("import", path, "--whole", "--json")).Exits(ExitCode.Done).Json.GetProperty("import");

            Assert.Equal(0, back.GetProperty("added").GetInt32() + back.GetProperty("changed").GetInt32() + back.GetProperty("removed").GetInt32());
            Assert.Equal(back.GetProperty("rows").GetInt32(), back.GetProperty("unchanged").GetInt32());
            Assert.True(back.GetProperty("rows").GetInt32() > 2000);
        }
    }

    // One source, three compounds, and melting ranges of them and of the table's own.
    private static HandbookPage Page()
    {
        using var file = new StreamReader(RepositoryFiles.At("seed-tables", "parents.csv"));
        var listed = CsvTable.Read(RecordKinds.Parents, file).Where(parent => parent.Kind is ParentKind.Aldehyde or ParentKind.Ketone)
            .Select(parent => parent.Key);
        var keys = NewKeys.Concat(listed).Take(Rows - 1 - NewParents.Length);
        return new HandbookPage(
            [.. NewParents],
            [.. keys.Select((key, index) => string.Create(
                CultureInfo.InvariantCulture, $"{key},semicarbazone,,,,,{Source},p. 12,{120 + (index % 90)}-{121 + (index % 90)},"))]);
    }

    // Shape: one mistake a fault that is to be told.
    private static (List<string> Parents, List<string> Derivatives, List<Mistake> Mistakes) Spoilt(HandbookPage page)
    {
        var (parents, derivatives) = (page.Parents.ToList(), page.Derivatives.ToList());
        var mistakes = new List<Mistake> { new("misspelt heading", "derivatives 1 lokator lokator") };

        void Spoil(string kind, int row, string column, Func<string[], string> spoil, Func<string[], string> value)
        {
            var cells = derivatives[row].Split(',');
            derivatives[row] = spoil(cells);
            mistakes.Add(new Mistake(kind, $"derivatives {row + 2} {column} {value(cells)}"));
        }

        void SpoilCell(string kind, int row, string column, string cell) => Spoil(
            kind, row, column,
            cells =>
            {
                cells[Array.IndexOf(DerivativesHeader.Split(','), column)] = cell;
                return string.Join(',', cells);
            },
            _ => cell);

        Spoil("a comma too many", 10, "", cells => string.Join(',', cells) + "pale, almost white", cells => string.Join(' ', cells) + "pale  almost white");
        Spoil("a cell too few", 20, "", cells => string.Join(',', cells[..^1]), cells => string.Join(' ', cells[..^1]));
        SpoilCell("a letter in a number", 30, "low_celsius", "12O");
        SpoilCell("a word that is none", 40, "decomposes", "perhaps");
        SpoilCell("a colour that isn't listed", 45, "colour_key", "chartreuse");
        SpoilCell("a compound that isn't there", 50, "parent_key", "no-such-compound");
        SpoilCell("a kind misspelt", 60, "kind_key", "semicarbazon");
        SpoilCell("a source that isn't there", 70, "source_key", "another-handbook");
        SpoilCell("another encoding", 80, "note", "wei\uFFFD");
        SpoilCell("no range", 90, "as_printed", "melts high");

        // Two in one row: the one that can't be read doesn't hide the other.
        SpoilCell("a letter in a number", 100, "high_celsius", "l30");
        SpoilCell("a source that isn't there", 100, "source_key", "third-handbook");

        derivatives[110] = derivatives[110].Replace(",,,,,", ",135,125,,,", StringComparison.Ordinal).Replace(derivatives[110].Split(',')[8], "", StringComparison.Ordinal);
        mistakes.Add(new Mistake("a range reversed", "derivatives 112 low_celsius 135"));
        derivatives[120] = derivatives[120].Replace(",,,,,", ",95,96,,,", StringComparison.Ordinal);
        mistakes.Add(new Mistake("figures unlike the print", $"derivatives 122 as_printed {derivatives[120].Split(',')[8]}"));
        derivatives[131] = derivatives[1];
        mistakes.Add(new Mistake("one record twice", "derivatives 133 key 3-4-propylphenyl-propanal-semicarbazone-2"));
        parents[1] += "67-64-1";
        mistakes.Add(new Mistake("a CAS number of another's", "parents 3 cas_number 67-64-1"));
        parents[0] += "67-64-2";
        mistakes.Add(new Mistake("a wrong check digit", "parents 2 cas_number 67-64-2"));
        parents[2] = parents[2].Replace("C(C)=O", "C(C=O", StringComparison.Ordinal);
        mistakes.Add(new Mistake("a structure that isn't closed", $"parents 4 smiles {parents[2].Split(',')[1]}"));
        return (parents, derivatives, mistakes);
    }

    private static string Told(JsonElement fault) => string.Create(
        CultureInfo.InvariantCulture,
        $"{fault.GetProperty("table").GetString()} {fault.GetProperty("line").GetInt32()} {fault.GetProperty("column").GetString()} {fault.GetProperty("value").GetString()}");

    private Task<Ran> CommandAsync(Shell shell, string command, params string[] options) =>
        CountedAsync(shell, [command, .. Lists.Select(FileOf), .. options]);

    private Task<Ran> CountedAsync(Shell shell, params string[] words)
    {
        _commands++;
        return shell.RunAsync(words);
    }

    private string FileOf(string list) => Path.Combine(_folder, list + ".csv");

    private async Task WriteAsync(HandbookPage page)
    {
        var isSpoilt = page.Derivatives.Exists(row => row.Contains('\uFFFD', StringComparison.Ordinal));
        await File.WriteAllTextAsync(
            FileOf("sources"),
            $"key,citation,grade,family,how_read\n{Source},\"Invented Handbook, 1st ed.\",compiled,{Source},page-read\n", Token);
        await File.WriteAllTextAsync(FileOf("parents"), ParentsHeader + "\n" + string.Join('\n', page.Parents) + "\n", Token);

        // As a program writes that knows one byte a letter: "weiß" with a byte that is no UTF-8.
        var header = isSpoilt ? DerivativesHeader.Replace("locator", "lokator", StringComparison.Ordinal) : DerivativesHeader;
        var text = header + "\n" + string.Join('\n', page.Derivatives) + "\n";
        await File.WriteAllBytesAsync(FileOf("derivatives"), Encoding.Latin1.GetBytes(text.Replace('\uFFFD', 'ß')), Token);
    }

    /// <param name="Parents">Rows of compounds.</param>
    /// <param name="Derivatives">Rows of melting ranges.</param>
    private sealed record HandbookPage(List<string> Parents, List<string> Derivatives);

    /// <param name="Kind">What sort of mistake it is.</param>
    /// <param name="Told">List, line, column and value, as they are to be told.</param>
    private sealed record Mistake(string Kind, string Told);
}

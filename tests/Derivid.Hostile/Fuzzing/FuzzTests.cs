using Derivid.Testing;

namespace Derivid.Hostile.Fuzzing;

/// <summary>Requests meant ill to every operation of the published document, by everybody, over HTTP.</summary>
/// <remarks>
/// All are the same in every run: by seed and number, or kept in <c>Corpus/requests.jsonl</c>. Those that succeed are fine; the
/// database is the run's own.
/// </remarks>
[Trait("Database", "PostgreSQL")]
public sealed class FuzzTests
{
    private const int Seed = 20_26;
    private const int ForOneRound = 500;

    private static CancellationToken Patience => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("SQLite")]
    [InlineData("PostgreSQL")]
    public Task CorpusAndSomeAreAnsweredAsTheyShouldBe(string engine) => RunAsync(engine, 2_500, wrongValues: 2);

    [Theory(Explicit = true)]
    [InlineData("SQLite")]
    [InlineData("PostgreSQL")]
    public Task ManyAreAnsweredAsTheyShouldBe(string engine) => RunAsync(engine, 50_000, wrongValues: int.MaxValue);

    [Fact]
    public void SameSeedAndNumberMakeTheSameRequest()
    {
        Assert.Equal(
            Enumerable.Range(0, 500).Select(number => Attacker.Make(Seed, number).Line()),
            Enumerable.Range(0, 500).Select(number => Attacker.Make(Seed, number).Line()));
    }

    [Fact]
    public void LineOfTheCorpusReadsBack()
    {
        foreach (var attack in Enumerable.Range(0, 500).Select(number => Attacker.Make(Seed, number)))
        {
            Assert.Equal(attack.Line(), Attack.Read(attack.Line()).Line());
        }
    }

    private static async Task RunAsync(string engine, int requests, int wrongValues)
    {
        await using var site = engine == "SQLite" ? await Site.OnSqliteAsync() : await Site.OnPostgreSqlAsync();
        using var run = new FuzzRun(site);
        var before = await IdentifiedAsync(site);
        var attacks = (await CorpusAsync())
            .Append(CellOfAMegabyte)
            .Concat(Attacker.Replacing(wrongValues))
            .Concat(Enumerable.Range(0, requests).Select(number => Attacker.Make(Seed, number)));
        foreach (var round in attacks.Chunk(ForOneRound))
        {
            await run.SendAsync(round, await Prey.MakeAsync(site));
        }

        var after = await IdentifiedAsync(site);
        TestContext.Current.SendDiagnosticMessage($"{engine}: {run.Table()}\n{site.Service.PeakMegabytes:0} MB at most");
        run.AssertFaultless();
        Assert.Equal(before, after);
        await site.AssertUnharmedAsync();
    }

    private static Attack CellOfAMegabyte => new()
    {
        Operation = "putRoster",
        By = Who.Instructor,
        Method = "PUT",
        Address = "/api/v1/courses/@@course@@/roster",
        TagOf = "/api/v1/courses/@@course@@",
        Headers = [["Content-Type", "text/csv"], ["If-Match", "@@tag@@"]],
        Text = "student\n" + new string('a', 1_000_000),
    };

    private static async Task<List<Attack>> CorpusAsync() =>
        [.. (await File.ReadAllLinesAsync(RepositoryFiles.At("tests", "Derivid.Hostile", "Corpus", "requests.jsonl"), Patience)).Select(Attack.Read)];

    // By the first version, which no release changes.
    private static async Task<string> IdentifiedAsync(Site site)
    {
        using var content = new StringContent("""{ "meltingPoint": "48-49", "tableVersion": 1 }""");
        content.Headers.ContentType = new("application/json");
        using var response = await site.Service.Client.PostAsync("/api/v1/identifications?store=false", content, Patience);
        return await response.Content.ReadAsStringAsync(Patience);
    }
}

using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Seeding;
using Derivid.Testing;

namespace Derivid.Store.Tests.Curation;

/// <summary>
/// A kind of record that nobody foresaw goes all the way on nothing but its registration: read from a file, held against
/// the rules, proposed, released, read back, compared and written out.
/// </summary>
public abstract class NewKindTests(Func<Task<ITestDatabase>> newDatabase)
{
    private const string File =
        """
        key,name,synonyms,boils_celsius,hazard,dries,source_key,note
        ethanol,Ethanol,ethyl alcohol;spirit,78.3,moderate,no,book,
        hexane,Hexane,,68.7,high,unstated,set,"made up, all of it"

        """;

    // The one place: everything the house does with records of this kind follows from it.
    private static readonly RecordKind<Solvent> Solvents = new(
        "solvents-of-the-test",
        columns:
        [
            nameof(Solvent.Key), nameof(Solvent.Name), nameof(Solvent.Synonyms), nameof(Solvent.BoilsCelsius),
            nameof(Solvent.Hazard), nameof(Solvent.Dries),
            new(nameof(Solvent.SourceKey)) { Names = RecordKinds.Sources }, nameof(Solvent.Note),
        ],
        key: [nameof(Solvent.Key)],
        order: [nameof(Solvent.BoilsCelsius)],
        rules: (row, _, findings) => findings.Require(
            row.BoilsCelsius < 200, nameof(row.BoilsCelsius), row.BoilsCelsius, "below 200 °C"));

    private static readonly TableLayout Layout = new([.. RecordKinds.All, Solvents]);
    private static readonly AuditOrigin Author = new("key:author", null, null);
    private static readonly AuditOrigin Reviewer = new("key:reviewer", null, null);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task NewKindGoesAllTheWayOnItsRegistrationAlone()
    {
        await using var database = await newDatabase();
        await using (var today = new StoreUnderTest(database.NewEngine()))
        {
            await today.StartAsync();
        }

        await using var store = new StoreUnderTest(database.NewEngine(), layout: Layout);
        await store.AlterSchemaAsync();

        var second = await ReleasedAsync(store, 1, id => ImportAsync(store, id, File));
        Assert.Equal(["hexane", "ethanol"], second.RowsOf(Solvents).Select(row => row.Key));
        Assert.Equal(File.Split('\n').Order(StringComparer.Ordinal), Written(second).Split('\n').Order(StringComparer.Ordinal));

        var third = await ReleasedAsync(store, 2, async id =>
        {
            var proposals = store.Get<Proposals>();
            var dry = second.RowsOf(Solvents)[1] with { Dries = true, Synonyms = ["spirit"] };
            await proposals.PutAsync(Author, id, 1, Solvents, "ethanol", dry, Cancellation);
            await proposals.PutAsync(Author, id, 2, Solvents, "hexane", null, Cancellation);
        });
        var changes = TableDifferences.Between(second, third);
        Assert.Equal(
            [("ethanol", ChangeType.Changed), ("hexane", ChangeType.Removed)], changes.Select(change => (change.Key, change.Type)));
        Assert.Equal(["Synonyms", "Dries"], changes[0].Fields);
        Assert.Equal(
            "key,name,synonyms,boils_celsius,hazard,dries,source_key,note\nethanol,Ethanol,spirit,78.3,moderate,yes,book,\n",
            Written(third));

        // What was released before stands, also what was released before the kind was known.
        Assert.Equal(Written(second), Written((await store.Tables.LoadAsync(2, Cancellation))!));
        Assert.Equal(Json.Of(SampleTable.First), Json.Of((await store.Tables.LoadAsync(1, Cancellation))!));
        Assert.Equal(3, (await store.Tables.VersionsAsync(Cancellation)).Select(version => version.ContentHash).Distinct().Count());
    }

    [Fact]
    public async Task ItsFaultsAreToldByItsColumns()
    {
        await using var database = await newDatabase();
        await using var store = new StoreUnderTest(database.NewEngine(), layout: Layout);
        await store.StartAsync();
        await store.AlterSchemaAsync();
        var proposal = (await store.Get<Proposals>().CreateAsync(Author, null, "t", null, 1, null, [], Cancellation)).Value;

        var job = await ImportAsync(
            store,
            proposal.Id,
            """
            key;name;synonyms;boils_celsius;hazard;dries;source_key;note
            water;Water;;99,97;LOW;y;book;
            steam;Steam;;200,5;low;no;nowhere;
            ;Nothing;a;b;deadly;maybe;book;

            """);

        Assert.Equal(ImportState.Failed, job.State);
        var faults = await store.Get<ImportJobs>().FaultsAsync(job.Id, 0, 100, Cancellation);
        Assert.Equal(
            [
                (3, "source_key", "nowhere", "the key of a source of the table; add the source first"),
                (3, "boils_celsius", "200.5", "below 200 °C"),
                (4, "key", "", "a text"), (4, "boils_celsius", "b", "a decimal number with a point, no exponent"),
                (4, "hazard", "deadly", "low, moderate, high"), (4, "dries", "maybe", "yes, no, unstated"),
            ],
            faults.Select(fault => (fault.Line, fault.Column, fault.Value, fault.Allowed)));
    }

    private static string Written(ReferenceTable table)
    {
        using var text = new StringWriter();
        CsvTable.Write(Solvents, text, table.RowsOf(Solvents));
        return text.ToString();
    }

    private static async Task<ImportJob> ImportAsync(StoreUnderTest store, string proposalId, string file)
    {
        var job = new ImportJob
        {
            Id = "i-" + proposalId,
            ProposalId = proposalId,
            Revision = 1,
            TableName = Solvents.TableName,
            IsWhole = true,
            IsDryRun = false,
            State = ImportState.Queued,
            StartedBy = Author.Actor,
            CreatedAtUtc = StoreUnderTest.Now,
            SeenAtUtc = StoreUnderTest.Now,
        };
        var rows = new ImportRows(
            [
                new ImportPart(
                    Solvents, () => CsvImport.Read(Solvents, new StringReader(file)),
                    field => Solvents.Columns.FirstOrDefault(column => column.Field == field)?.Name ?? "", HasHeading: true),
            ],
            () => 1);
        await store.Get<ImportJobs>().AddAsync(Author, null, job, Cancellation);
        await store.Get<Imports>().RunAsync(job, rows, new ImportProgress(), Author, Cancellation, CancellationToken.None);
        return (await store.Get<ImportJobs>().FindAsync(job.Id, Cancellation))!;
    }

    private static async Task<ReferenceTable> ReleasedAsync(StoreUnderTest store, int baseVersion, Func<string, Task> fill)
    {
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(Author, null, "t", null, baseVersion, null, [], Cancellation)).Value;
        await fill(made.Id);
        var revision = (await proposals.FindAsync(made.Id, Cancellation))!.Revision;
        await proposals.SubmitAsync(Author, made.Id, revision, Cancellation);
        await proposals.ReviewAsync(Reviewer, made.Id, revision + 1, true, null, false, Cancellation);

        // The sample is no chemistry; what is said of the new kind is what counts here.
        var written = await store.Get<Releases>().ReleaseAsync(
            Reviewer, made.Id, revision + 2, null, false,
            table => [.. TableValidation.Of(table).Where(finding => finding.Kind == Solvents)], Cancellation);
        Assert.Equal(ProposalFault.None, written.Fault);
        return (await store.Tables.LoadAsync(baseVersion + 1, Cancellation))!;
    }

    public sealed class OnSqlite() : NewKindTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : NewKindTests(async () => await server.NewDatabaseAsync());

    /// <summary>A made-up record: one of each sort of column.</summary>
    private sealed record Solvent
    {
        public required string Key { get; init; }

        public required string Name { get; init; }

        public IReadOnlyList<string> Synonyms { get; init; } = [];

        public required double BoilsCelsius { get; init; }

        public required Hazard Hazard { get; init; }

        public bool? Dries { get; init; }

        public required string SourceKey { get; init; }

        public string? Note { get; init; }
    }
}

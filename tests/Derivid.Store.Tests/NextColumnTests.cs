using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Tables;
using Derivid.Testing;

namespace Derivid.Store.Tests;

/// <summary>The next build knows columns more, one of each sort that may be missing, in another order; what this build released stays readable.</summary>
public abstract class NextColumnTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static readonly RecordKind<NextSource> NextSources = new(
        "sources",
        columns:
        [
            nameof(NextSource.Publisher), nameof(NextSource.HowRead), nameof(NextSource.Family),
            nameof(NextSource.Grade), nameof(NextSource.Editors), new(nameof(NextSource.IsTranslation)) { IsOptionalFlag = true },
            nameof(NextSource.Address), nameof(NextSource.Pages), nameof(NextSource.Citation), nameof(NextSource.Key),
        ],
        key: [nameof(NextSource.Key)]);

    private static readonly TableLayout NextLayout =
        new([.. RecordKinds.All.Where(kind => kind != RecordKinds.Sources), NextSources]);

    private static readonly AuditOrigin Author = new("key:author", null, null);

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task DatabaseWrittenBeforeOpensAndItsVersionsAreWhatWasReleased()
    {
        await using var database = await newDatabase();
        await using (var today = new StoreUnderTest(database.NewEngine()))
        {
            await today.StartAsync();
            await ReleaseAsync(today, 1, RecordKinds.Sources, SampleTable.First.Sources[0] with { Citation = "another" });
        }

        await using var store = new StoreUnderTest(database.NewEngine(), layout: NextLayout);
        await store.AlterSchemaAsync();

        var first = (await store.Tables.LoadAsync(1, Cancellation))!;
        var second = (await store.Tables.LoadAsync(2, Cancellation))!;
        Assert.Equal(["another", "A data set"], second.RowsOf(NextSources).Select(row => row.Citation));
        Assert.All(first.RowsOf(NextSources), row => Assert.Equal(
            (null, 0, false, null), (row.Publisher, row.Editors.Count, row.IsTranslation, row.Pages)));
        Assert.Equal(ReferenceTableHash.Of(SampleTable.First), ReferenceTableHash.Of(first));

        // Once a column holds something, it counts.
        var before = second;
        NextSource[] altered =
        [
            second.RowsOf(NextSources)[0] with { Publisher = "A house" },
            second.RowsOf(NextSources)[0] with { Editors = ["A. B."] },
            second.RowsOf(NextSources)[0] with { IsTranslation = true },
            second.RowsOf(NextSources)[0] with { Pages = 0 },
        ];
        foreach (var (row, field) in altered.Zip(["Publisher", "Editors", "IsTranslation", "Pages"]))
        {
            await ReleaseAsync(store, before.Version, NextSources, row);
            var after = (await store.Tables.LoadAsync(before.Version + 1, Cancellation))!;
            Assert.Contains(field, Assert.Single(TableDifferences.Between(before, after)).Fields);
            before = after;
        }

        var hashes = (await store.Tables.VersionsAsync(Cancellation)).Select(version => version.ContentHash).ToList();
        Assert.Equal(6, hashes.Count);
        Assert.Equal(hashes.Count, hashes.Distinct().Count());
        Assert.Equal(Json.Of(second), Json.Of((await store.Tables.LoadAsync(2, Cancellation))!));
    }

    private static async Task ReleaseAsync<T>(StoreUnderTest store, int baseVersion, RecordKind<T> kind, T record)
        where T : class
    {
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(
            Author, null, "t", null, baseVersion, null, [new RecordChange(kind, kind.KeyOf(record), null, record)], Cancellation)).Value;
        await proposals.SubmitAsync(Author, made.Id, 1, Cancellation);
        await proposals.ReviewAsync(Author, made.Id, 2, true, null, true, Cancellation);
        var written = await store.Get<Releases>().ReleaseAsync(Author, made.Id, 3, null, true, _ => [], Cancellation);
        Assert.Equal(ProposalFault.None, written.Fault);
    }

    public sealed class OnSqlite() : NextColumnTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : NextColumnTests(async () => await server.NewDatabaseAsync());

    private sealed record NextSource(
        string? Publisher,
        SourceReading HowRead,
        string Family,
        SourceGrade Grade,
        IReadOnlyList<string> Editors,
        bool IsTranslation,
        string? Address,
        int? Pages,
        string Citation,
        string Key);
}

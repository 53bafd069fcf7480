using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Curation;
using Derivid.Store.Databases;
using Derivid.Store.Seeding;
using Derivid.Store.Tables;
using Derivid.Testing;
using Microsoft.Data.Sqlite;

namespace Derivid.Store.Tests.Curation;

public abstract class ProposalsTests(Func<Task<ITestDatabase>> newDatabase)
{
    private static readonly AuditOrigin Author = new("key:author", "a handbook page", null);
    private static readonly AuditOrigin Reviewer = new("key:reviewer", null, null);
    private static readonly ReferenceTable Seed = SeedTables.Load().Ordered();
    private static readonly Derivative Altered = Seed.Derivatives[5] with { Note = "looked up again" };
    private static readonly Parent Removed = Seed.Parents[3];

    private static CancellationToken Cancellation => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ReviewedProposalBecomesTheNextVersionAndTheOldOneStays()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);

        var released = await ReleasedAsync(store, Changes());

        var first = await store.Tables.LoadAsync(1, Cancellation);
        var second = await store.Tables.LoadAsync(2, Cancellation);
        Assert.Equal((ProposalFault.None, 2), (released.Fault, released.Proposal!.ReleasedVersion));
        Assert.Empty(TableDifferences.Between(Seed, first!));
        Assert.Equal(
            Changes().Select(change => (change.Kind.TableName, change.Key, change.Type)).Order(),
            TableDifferences.Between(first!, second!).Select(change => (change.Kind.TableName, change.Key, change.Type)).Order());
        var acts = (await store.Get<AuditTrail>().ReadAsync(new AuditFilter(), null, false, 100, Cancellation)).Select(entry => entry.Action);
        Assert.Equal(["proposal.create", "proposal.submit", "proposal.approve", "proposal.release"], acts.Where(act => act.StartsWith("proposal", StringComparison.Ordinal)));
    }

    [Fact]
    public async Task RollBackHasTheContentOfTheVersionItBringsBack()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        await ReleasedAsync(store, Changes());
        var second = await store.Tables.LoadAsync(2, Cancellation);

        await ReleasedAsync(store, TableDifferences.Between(second!, Seed), baseVersion: 2);

        var third = await store.Tables.LoadAsync(3, Cancellation);
        Assert.Empty(TableDifferences.Between(Seed, third!));
        Assert.Equal(ReferenceTableHash.Of(Seed), ReferenceTableHash.Of(third!));
        Assert.Equal(Json.Of(second!), Json.Of((await store.Tables.LoadAsync(2, Cancellation))!));
    }

    [Fact]
    public async Task WriteUnderAnOldRevisionChangesNothing()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(Author, null, "t", null, 1, null, [], Cancellation)).Value;
        await proposals.PutAsync(Author, made.Id, 1, RecordKinds.Derivatives, Altered.Key, Altered, Cancellation);

        var late = await proposals.PutAsync(Reviewer, made.Id, 1, RecordKinds.Parents, Removed.Key, null, Cancellation);

        Assert.Equal(ProposalFault.Stale, late.Fault);
        var record = Assert.Single(await proposals.RecordsAsync(made.Id, Cancellation));
        Assert.Equal(Altered, RecordText.Read(RecordKinds.Derivatives, record.RecordJson));
        Assert.Equal(["key:author"], (await proposals.FindAsync(made.Id, Cancellation))!.Authors);
    }

    [Fact]
    public async Task ManyWritersAtOnceLoseNothing()
    {
        const int Writers = 8;
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(Author, null, "t", null, 1, null, [], Cancellation)).Value;

        var wins = await Task.WhenAll(Enumerable.Range(0, Writers).Select(writer => Task.Run(async () =>
        {
            var won = 0;
            for (var round = 0; round < 6; round++)
            {
                var seen = await proposals.FindAsync(made.Id, Cancellation);
                var write = await proposals.PutAsync(
                    new AuditOrigin($"key:{writer}", null, null), made.Id, seen!.Revision, RecordKinds.Derivatives, $"d-{writer}-{round}", Altered, Cancellation);
                won += write.Fault == ProposalFault.None ? 1 : 0;
            }

            return won;
        })));

        Assert.Equal(wins.Sum(), (await proposals.RecordsAsync(made.Id, Cancellation)).Count);
        Assert.Equal(wins.Sum() + 1, (await proposals.FindAsync(made.Id, Cancellation))!.Revision);
        Assert.InRange(wins.Sum(), 6, Writers * 6);
    }

    [Fact]
    public async Task AuthorMayNeitherReviewNorReleaseUnlessAllowed()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(Author, null, "t", null, 1, null, Changes(), Cancellation)).Value;
        await proposals.SubmitAsync(Author, made.Id, 1, Cancellation);

        Assert.Equal(ProposalFault.SamePerson, (await proposals.ReviewAsync(Author, made.Id, 2, true, null, false, Cancellation)).Fault);
        Assert.Equal(ProposalFault.None, (await proposals.ReviewAsync(Author, made.Id, 2, true, null, true, Cancellation)).Fault);
        Assert.Equal(ProposalFault.SamePerson, (await ReleaseAsync(store, Author, made.Id, 3)).Fault);
        Assert.Equal(ProposalFault.None, (await ReleaseAsync(store, Reviewer, made.Id, 3)).Fault);
    }

    [Fact]
    public async Task WhoBecomesAnAuthorWhileTheirReviewWaitsMayNotReviewEither()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(Author, null, "t", null, 1, null, Changes(), Cancellation)).Value;

        // Both turns of the reviewer are taken; what is written in one makes them an author of the revision that they review.
        var (begun, over, last) = (new TaskCompletionSource(), new TaskCompletionSource(), new TaskCompletionSource());
        var writing = store.Audit.WriteAsync(
            Reviewer,
            async (context, _) =>
            {
                begun.TrySetResult();
                await over.Task;
                context.Update(made with { Authors = [.. made.Authors, Reviewer.Actor], State = ProposalState.Submitted, Revision = 2 })
                    .Property(row => row.Revision).OriginalValue = 1;
                return new Audited<bool>(true);
            },
            Cancellation);
        await begun.Task;
        var other = store.Audit.WriteAsync(
            Reviewer,
            async (_, _) =>
            {
                await last.Task;
                return new Audited<bool>(true);
            },
            Cancellation);
        var reviewing = proposals.ReviewAsync(Reviewer, made.Id, 2, true, null, false, Cancellation);
        while (store.Audit.Waiting == 0)
        {
            await Task.Delay(10, Cancellation);
        }

        over.SetResult();
        await writing;
        last.SetResult();
        await other;

        Assert.Equal(ProposalFault.SamePerson, (await reviewing).Fault);
        Assert.Equal(ProposalState.Submitted, (await proposals.FindAsync(made.Id, Cancellation))!.State);
    }

    [Theory]
    [InlineData(true, "There was not enough memory to read the file to its end. Nothing was taken; send it in parts, or when less is going on.")]
    [InlineData(false, "The file could not be read to its end for a fault of the service, which is in its log. Nothing was taken; whoever runs the service can look.")]
    public async Task ImportThatBreaksOffSaysWhatOf(bool isOfMemory, string message)
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var made = (await store.Get<Proposals>().CreateAsync(Author, null, "t", null, 1, null, [], Cancellation)).Value;
        var job = new ImportJob
        {
            Id = "i",
            ProposalId = made.Id,
            Revision = 1,
            TableName = "sources",
            IsWhole = false,
            IsDryRun = false,
            State = ImportState.Queued,
            StartedBy = Author.Actor,
            CreatedAtUtc = StoreUnderTest.Now,
            SeenAtUtc = StoreUnderTest.Now,
        };
        await store.Get<ImportJobs>().AddAsync(Author, null, job, Cancellation);
        Exception fault = isOfMemory ? new InsufficientMemoryException() : new NotSupportedException();
        var rows = new ImportRows([new ImportPart(RecordKinds.Sources, () => throw fault, name => name, HasHeading: true)], () => 1);

        var thrown = await Assert.ThrowsAnyAsync<Exception>(
            () => store.Get<Imports>().RunAsync(job, rows, new ImportProgress(), Author, Cancellation, CancellationToken.None));

        Assert.Same(fault, thrown);
        var ended = (await store.Get<ImportJobs>().FindAsync(job.Id, Cancellation))!;
        Assert.Equal((ImportState.Interrupted, message), (ended.State, ended.Message));
    }

    [Fact]
    public async Task WantOfMemoryAndCallingOffAreNoFaultsOfTheDatabase()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var away = new InvalidOperationException("The connection broke.", database is SqliteDatabase ? new SqliteException("busy", 5) : new TimeoutException());
        var memory = new InsufficientMemoryException("There is none.", away);
        using var gone = new CancellationTokenSource();

        await Assert.ThrowsAsync<DatabaseUnavailableException>(() => RunAsync((_, _) => throw away, Cancellation));
        Assert.Same(memory, await Assert.ThrowsAsync<InsufficientMemoryException>(() => RunAsync((_, _) => throw memory, Cancellation)));
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => RunAsync(
            async (_, token) =>
            {
                var told = new TaskCompletionSource();
                await using var registered = token.Register(told.SetResult);
                await gone.CancelAsync();
                await told.Task;
                throw away;
            },
            gone.Token));
        Assert.False(store.Database.IsLost);

        Task<bool> RunAsync(Func<DerividContext, CancellationToken, Task<bool>> work, CancellationToken cancellation) => store.Database.RunAsync(work, cancellation);
    }

    [Fact]
    public async Task RecordChangedByALaterVersionMustBeLookedAtAgain()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var proposals = store.Get<Proposals>();
        var slow = (await proposals.CreateAsync(
            Author, null, "slow", null, 1, null, [new RecordChange(RecordKinds.Derivatives, Altered.Key, null, Altered with { Note = "slow" })], Cancellation)).Value;
        await proposals.SubmitAsync(Author, slow.Id, 1, Cancellation);
        await proposals.ReviewAsync(Reviewer, slow.Id, 2, true, null, false, Cancellation);
        await ReleasedAsync(store, Changes());

        var refused = await ReleaseAsync(store, Reviewer, slow.Id, 3);

        Assert.Equal(ProposalFault.Outdated, refused.Fault);
        Assert.Equal([Altered.Key], refused.Conflicts.Select(change => change.Key));
        Assert.Equal(ProposalState.Draft, (await proposals.RebaseAsync(Author, slow.Id, 3, 2, Cancellation)).Proposal!.State);
        await proposals.SubmitAsync(Author, slow.Id, 4, Cancellation);
        await proposals.ReviewAsync(Reviewer, slow.Id, 5, true, null, false, Cancellation);
        Assert.Equal(3, (await ReleaseAsync(store, Reviewer, slow.Id, 6)).Proposal!.ReleasedVersion);
    }

    [Fact]
    public async Task RuleBrokenStopsTheReleaseAndNothingIsWritten()
    {
        await using var database = await newDatabase();
        await using var store = await StartedAsync(database);
        var broken = new RecordChange(RecordKinds.Derivatives, Altered.Key, null, Altered with { SourceKey = "nowhere" });

        var refused = await ReleasedAsync(store, [broken]);

        Assert.Equal(ProposalFault.Invalid, refused.Fault);
        Assert.Contains(refused.Findings, finding => finding.Field == "SourceKey" && finding.Value == "nowhere");
        Assert.Single(await store.Tables.VersionsAsync(Cancellation));
    }

    private static RecordChange[] Changes() =>
    [
        new(RecordKinds.Sources, "new-book", null, new Source("new-book", "A new book", null, SourceGrade.Measured, "new-book", SourceReading.PageRead)),
        new(RecordKinds.Derivatives, Altered.Key, Seed.Derivatives[5], Altered),
        new(RecordKinds.ParentConstants, ConstantKey, Seed.Constants[0], null),
    ];

    private static string ConstantKey => RecordKinds.ParentConstants.KeyOf(Seed.Constants[0]);

    private static async Task<StoreUnderTest> StartedAsync(ITestDatabase database)
    {
        var store = new StoreUnderTest(database.NewEngine());
        await store.StartAsync(new SeedTable("seed", () => Seed));
        return store;
    }

    private static async Task<ProposalWrite> ReleasedAsync(StoreUnderTest store, IReadOnlyList<RecordChange> changes, int baseVersion = 1)
    {
        var proposals = store.Get<Proposals>();
        var made = (await proposals.CreateAsync(Author, null, "A page of a handbook", null, baseVersion, null, changes, Cancellation)).Value;
        await proposals.SubmitAsync(Author, made.Id, 1, Cancellation);
        await proposals.ReviewAsync(Reviewer, made.Id, 2, true, "seen", false, Cancellation);
        return await ReleaseAsync(store, Reviewer, made.Id, 3);
    }

    private static Task<ProposalWrite> ReleaseAsync(StoreUnderTest store, AuditOrigin who, string id, int revision) =>
        store.Get<Releases>().ReleaseAsync(who, id, revision, null, false, TableValidation.Of, Cancellation);

    public sealed class OnSqlite() : ProposalsTests(() => Task.FromResult<ITestDatabase>(new SqliteDatabase()));

    [Trait("Database", "PostgreSQL")]
    public sealed class OnPostgreSql(PostgreSqlServer server) : ProposalsTests(async () => await server.NewDatabaseAsync());
}

using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Keeps proposals, their changes and the remarks on them.</summary>
/// <remarks>
/// Every write names the revision its writer saw; whoever comes second is told so and nothing of theirs is kept.
/// Errors: every call throws <see cref="DatabaseUnavailableException"/> when the database can't be used just now.
/// </remarks>
/// <param name="database">Where they are kept.</param>
/// <param name="audit">Takes down who wrote what.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
/// <param name="ids">Makes their ids.</param>
/// <param name="time">The clock.</param>
public sealed class Proposals(DerividDatabase database, AuditTrail audit, IdempotentWrites writes, ResourceIds ids, TimeProvider time)
{
    private static readonly ProposalState[] Draft = [ProposalState.Draft];
    private static readonly ProposalState[] Open = [ProposalState.Draft, ProposalState.Submitted, ProposalState.Reviewed];

    private readonly ProposalWriter _writer = new(audit, time);

    /// <summary>Makes a proposal.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="title">What it is about.</param>
    /// <param name="reason">Why. Missing: null.</param>
    /// <param name="baseVersion">The version it starts from.</param>
    /// <param name="restores">The version it brings back. Missing: null.</param>
    /// <param name="changes">The changes it begins with.</param>
    /// <param name="cancellation">Gives up early, keeping nothing.</param>
    /// <returns>The proposal; one made before, as it is now.</returns>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    public Task<Created<Proposal>> CreateAsync(
        AuditOrigin origin, IdempotencyKey? key, string title, string? reason, int baseVersion, int? restores,
        IReadOnlyList<RecordChange> changes, CancellationToken cancellation)
    {
        var proposal = New(ids.New(), title, reason, baseVersion, restores, origin, time.GetUtcNow().UtcDateTime);
        return writes.RunAsync(
            key,
            origin,
            async (context, token) => new Creation<Proposal>(proposal, proposal.Id, await AddAsync(context, proposal, changes, origin, token)),
            FindAsync,
            cancellation);
    }

    /// <summary>Finds what an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<Proposal?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) => writes.FindAsync(key, FindAsync, cancellation);

    /// <summary>Finds one.</summary>
    /// <param name="id">The proposal.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Missing: null, no such proposal.</returns>
    public Task<Proposal?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Proposals.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token), cancellation);

    /// <summary>Lists proposals, newest first.</summary>
    /// <param name="state">Only those that have come this far. Missing: null, all but those withdrawn before they changed anything.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the newest.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    public Task<List<Proposal>> ListAsync(
        ProposalState? state, string? beyond, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Proposals.AsNoTracking()
            .Where(row => state == null
                ? row.State != ProposalState.Withdrawn || context.ProposedRecords.Any(record => record.ProposalId == row.Id)
                : row.State == state)
            .NewestFirst(beyond, most).ToListAsync(token),
        cancellation);

    /// <summary>The changes of a proposal.</summary>
    /// <param name="id">The proposal.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: no order promised.</returns>
    public Task<List<ProposedRecord>> RecordsAsync(string id, CancellationToken cancellation) =>
        database.RunAsync((context, token) => RecordsAsync(context, id, token), cancellation);

    /// <summary>What a proposal makes of the version it starts from.</summary>
    /// <param name="id">The proposal.</param>
    /// <param name="before">The version.</param>
    /// <param name="cancellation">Gives up.</param>
    public async Task<ProposedTable> ProposedOnAsync(string id, ReferenceTable before, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(before);
        return new ProposedTable(before, await RecordsAsync(id, cancellation), before.Version);
    }

    /// <summary>What stands in the way of changing a draft.</summary>
    /// <param name="proposal">The proposal. Missing: null, there is none.</param>
    /// <param name="revision">The revision the change is meant for.</param>
    public static ProposalFault FaultOfChange(Proposal? proposal, int revision) =>
        ProposalWriter.FaultOf(proposal, revision, new ProposalStep("proposal.change", Draft, row => row));

    private static Task<Proposal> FindAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Proposals.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    internal static Task<List<ProposedRecord>> RecordsAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.ProposedRecords.AsNoTracking().Where(row => row.ProposalId == id).ToListAsync(cancellation);

    /// <summary>Changes title and reason.</summary>
    /// <inheritdoc cref="SubmitAsync"/>
    public Task<ProposalWrite> DescribeAsync(
        AuditOrigin origin, string id, int revision, string title, string? reason, CancellationToken cancellation) =>
        _writer.WriteAsync(
            origin, id, revision,
            new ProposalStep("proposal.describe", Draft, row => row.By(origin) with { Title = title, Reason = reason }),
            null, cancellation);

    /// <summary>Says what becomes of one record.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="id">The proposal.</param>
    /// <param name="revision">The revision the writer saw.</param>
    /// <param name="kind">The kind of record.</param>
    /// <param name="key">Its key.</param>
    /// <param name="record">The record as it is to be. Missing: null, it is to be left out.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    public Task<ProposalWrite> PutAsync(
        AuditOrigin origin, string id, int revision, RecordKind kind, string key, object? record, CancellationToken cancellation) =>
        _writer.WriteAsync(
            origin, id, revision, new ProposalStep("proposal.change", Draft, row => row.By(origin)) { Part = Part(kind, key) },
            (context, _, token) => context.InsertAsync([Proposed(id, kind, key, record, origin, time.GetUtcNow().UtcDateTime)], StoredRow.GivesWay, token), cancellation);

    /// <summary>Takes the change of one record back.</summary>
    /// <inheritdoc cref="PutAsync"/>
    public Task<ProposalWrite> TakeBackAsync(
        AuditOrigin origin, string id, int revision, RecordKind kind, string key, CancellationToken cancellation) =>
        _writer.WriteAsync(
            origin, id, revision, new ProposalStep("proposal.take-back", Draft, row => row.By(origin)) { Part = Part(kind, key) },
            (context, _, token) => context.ProposedRecords
                .Where(row => row.ProposalId == id && row.TableName == kind.TableName && row.RecordKey == key).ExecuteDeleteAsync(token),
            cancellation);

    /// <summary>Hands a proposal in for review.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="id">The proposal.</param>
    /// <param name="revision">The revision the writer saw.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    public Task<ProposalWrite> SubmitAsync(AuditOrigin origin, string id, int revision, CancellationToken cancellation) =>
        _writer.WriteAsync(
            origin, id, revision,
            new ProposalStep("proposal.submit", Draft, row => row.By(origin) with { State = ProposalState.Submitted })
            {
                Said = new StepWord(origin.Actor, origin.Reason, RemarkOccasion.Submission),
            },
            null, cancellation);

    /// <summary>Gives a proposal up.</summary>
    /// <inheritdoc cref="SubmitAsync"/>
    public Task<ProposalWrite> WithdrawAsync(AuditOrigin origin, string id, int revision, CancellationToken cancellation) =>
        _writer.WriteAsync(
            origin, id, revision,
            new ProposalStep("proposal.withdraw", Open, row => row with { State = ProposalState.Withdrawn })
            {
                Said = new StepWord(origin.Actor, origin.Reason, RemarkOccasion.Withdrawal),
            },
            null, cancellation);

    /// <summary>Sets a proposal on a newer version of the table; it is a draft again.</summary>
    /// <inheritdoc cref="SubmitAsync"/>
    public Task<ProposalWrite> RebaseAsync(
        AuditOrigin origin, string id, int revision, int baseVersion, CancellationToken cancellation) =>
        _writer.WriteAsync(
            origin, id, revision,
            new ProposalStep(
                "proposal.rebase", Open, row => row.By(origin) with { State = ProposalState.Draft, BaseVersion = baseVersion })
            {
                Said = new StepWord(origin.Actor, origin.Reason, RemarkOccasion.Rebase),
            },
            null, cancellation);

    /// <summary>Approves a proposal, or hands it back.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="id">The proposal.</param>
    /// <param name="revision">The revision the reviewer saw.</param>
    /// <param name="approves">Whether it may be released.</param>
    /// <param name="note">What the reviewer says. Missing: null.</param>
    /// <param name="allowsAuthor">Whether an author may review.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    public async Task<ProposalWrite> ReviewAsync(
        AuditOrigin origin, string id, int revision, bool approves, string? note, bool allowsAuthor, CancellationToken cancellation)
    {
        // A reviewer writes nothing into the proposal, so the authors of a revision don't change under it.
        if (!allowsAuthor && await FindAsync(id, cancellation) is { } seen && seen.Authors.Contains(origin.Actor))
        {
            return new ProposalWrite(ProposalFault.SamePerson, seen);
        }

        var after = approves ? ProposalState.Reviewed : ProposalState.Draft;
        return await _writer.WriteAsync(
            origin, id, revision,
            new ProposalStep(
                approves ? "proposal.approve" : "proposal.hand-back", [ProposalState.Submitted],
                row => row with { State = after, ReviewedBy = origin.Actor, ReviewNote = note })
            {
                Said = new StepWord(origin.Actor, note ?? origin.Reason, approves ? RemarkOccasion.Approval : RemarkOccasion.HandBack),
            },
            null, cancellation);
    }

    /// <summary>The remarks on a proposal, oldest first.</summary>
    /// <param name="id">The proposal.</param>
    /// <param name="cancellation">Gives up early.</param>
    public Task<List<ProposalComment>> CommentsAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.ProposalComments.AsNoTracking().Where(row => row.ProposalId == id)
            .OrderBy(row => row.Id).ToListAsync(token),
        cancellation);

    /// <summary>Makes a remark; it needs no revision, since it changes nothing.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="id">The proposal; there must be one, and none is ever deleted.</param>
    /// <param name="text">The remark.</param>
    /// <param name="cancellation">Gives up early, keeping nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    public Task<Created<ProposalComment>> CommentAsync(
        AuditOrigin origin, IdempotencyKey? key, string id, string text, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        async (context, token) =>
        {
            var comment = new ProposalComment
            {
                ProposalId = id,
                Author = origin.Actor,
                Text = text,
                AtUtc = time.GetUtcNow().UtcDateTime,
            };
            context.ProposalComments.Add(comment);

            // The database numbers it.
            await context.SaveChangesAsync(token);
            return new Creation<ProposalComment>(
                comment, comment.Id.ToString(CultureInfo.InvariantCulture), new AuditedAct("proposal.comment", ResourceOf(id)));
        },
        (context, found, token) =>
        {
            var number = int.Parse(found, NumberStyles.None, CultureInfo.InvariantCulture);
            return context.ProposalComments.AsNoTracking().FirstAsync(row => row.Id == number, token);
        },
        cancellation);

    /// <summary>The address of a proposal, as the audit log has it.</summary>
    /// <param name="id">The proposal.</param>
    public static string ResourceOf(string id) => "proposals/" + id;

    /// <summary>A draft as it begins.</summary>
    internal static Proposal New(
        string id, string title, string? reason, int baseVersion, int? restores, AuditOrigin origin, DateTime now) => new()
        {
            Id = id,
            Title = title,
            Reason = reason,
            State = ProposalState.Draft,
            Revision = 1,
            BaseVersion = baseVersion,
            RestoresVersion = restores,
            Authors = [origin.Actor],
            CreatedAtUtc = now,
            UpdatedAtUtc = now,
        };

    /// <summary>Adds a draft and the changes it begins with, inside the context's transaction.</summary>
    internal static async Task<AuditedAct> AddAsync(
        DerividContext context, Proposal proposal, IReadOnlyList<RecordChange> changes, AuditOrigin origin, CancellationToken cancellation)
    {
        context.Entry(proposal).State = EntityState.Added;
        await context.SaveChangesAsync(cancellation);
        context.ChangeTracker.Clear();
        await context.InsertAsync(
            changes.Select(change => Proposed(proposal.Id, change.Kind, change.Key, change.After, origin, proposal.CreatedAtUtc)), StoredRow.None, cancellation);
        return new AuditedAct("proposal.create", ResourceOf(proposal.Id), proposal.BaseVersion);
    }

    // The address of a record of a proposal, below the proposal's own.
    private static string Part(RecordKind kind, string key) => $"/records/{kind.TableName}/{key}";

    internal static ProposedRecord Proposed(string id, RecordKind kind, string key, object? record, AuditOrigin origin, DateTime now) =>
        new(id, kind.TableName, key, RecordText.Write(record), origin.Actor, now);
}

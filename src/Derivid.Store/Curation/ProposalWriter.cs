using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Writes a proposal under the revision its writer saw, so that nobody's write is lost.</summary>
/// <param name="audit">Takes down who wrote it.</param>
/// <param name="time">Dates the write.</param>
internal sealed class ProposalWriter(AuditTrail audit, TimeProvider time)
{
    /// <summary>Takes a step.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="id">The proposal.</param>
    /// <param name="revision">The revision the writer saw.</param>
    /// <param name="step">The step.</param>
    /// <param name="more">What else is written with it, once no one else can write the proposal.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    public async Task<ProposalWrite> WriteAsync(
        AuditOrigin origin,
        string id,
        int revision,
        ProposalStep step,
        Func<DerividContext, Proposal, CancellationToken, Task>? more,
        CancellationToken cancellation)
    {
        try
        {
            return await audit.WriteAsync(
                origin, (context, token) => WriteAsync(context, id, revision, step, more, token), cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            return new ProposalWrite(ProposalFault.Stale, null);
        }
    }

    /// <summary>Takes a step within a transaction that is already open.</summary>
    /// <exception cref="DbUpdateConcurrencyException">Another writer was quicker.</exception>
    public async Task<Audited<ProposalWrite>> WriteAsync(
        DerividContext context,
        string id,
        int revision,
        ProposalStep step,
        Func<DerividContext, Proposal, CancellationToken, Task>? more,
        CancellationToken cancellation)
    {
        var before = await context.Proposals.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, cancellation);
        var fault = FaultOf(before, revision, step);
        if (fault != ProposalFault.None)
        {
            return new Audited<ProposalWrite>(new ProposalWrite(fault, before));
        }

        var after = step.Change(before!) with { Revision = revision + 1, UpdatedAtUtc = time.GetUtcNow().UtcDateTime };

        // The statement names the old revision and locks the row: of two writers the second finds no row and fails.
        var entry = context.Update(after);
        entry.Property(row => row.Revision).OriginalValue = revision;
        await context.SaveChangesAsync(cancellation);
        entry.State = EntityState.Detached;
        if (step.Said is { Text: { } text } said)
        {
            // Saved with the log's entry; a later step's word stands beside it, never in its place.
            context.ProposalComments.Add(new ProposalComment
            {
                ProposalId = id,
                Author = said.By,
                Text = text,
                AtUtc = after.UpdatedAtUtc,
                Occasion = said.Occasion,
            });
        }

        if (more is not null)
        {
            await more(context, after, cancellation);
        }

        return new Audited<ProposalWrite>(
            new ProposalWrite(ProposalFault.None, after), new AuditedAct(step.Action, Proposals.ResourceOf(id) + step.Part, before!.BaseVersion));
    }

    /// <summary>What stands in the way of a step.</summary>
    public static ProposalFault FaultOf(Proposal? proposal, int revision, ProposalStep step) =>
        proposal is null ? ProposalFault.NotFound
        : step.NotBy is { } actor && proposal.Authors.Contains(actor) ? ProposalFault.SamePerson
        : proposal.Revision != revision ? ProposalFault.Stale
        : !step.From.Contains(proposal.State) ? ProposalFault.WrongState
        : ProposalFault.None;
}

/// <summary>One write of a proposal: from which states, and what becomes of it.</summary>
/// <param name="Action">What the audit log calls it.</param>
/// <param name="From">The states it may be in.</param>
/// <param name="Change">The proposal after it; revision and time are seen to.</param>
internal sealed record ProposalStep(string Action, IReadOnlyList<ProposalState> From, Func<Proposal, Proposal> Change)
{
    /// <summary>What of the proposal it is about, as an address below the proposal's. Missing: empty, the proposal.</summary>
    public string Part { get; init; } = "";

    /// <summary>Who may not take it, having had a hand in the proposal, if they did. Missing: null, anybody may.</summary>
    public string? NotBy { get; init; }

    /// <summary>What is said with it. Missing: null.</summary>
    public StepWord? Said { get; init; }
}

/// <summary>What is said with a step.</summary>
/// <param name="By">Who says it.</param>
/// <param name="Text">The word. Missing: null, nothing.</param>
/// <param name="Occasion">The step.</param>
internal sealed record StepWord(string By, string? Text, RemarkOccasion Occasion);

/// <summary>What became of writing a proposal.</summary>
/// <param name="Fault">Why it was not written, or that it was.</param>
/// <param name="Proposal">The proposal as it now stands. Missing: null, there is none.</param>
public sealed record ProposalWrite(ProposalFault Fault, Proposal? Proposal)
{
    /// <summary>The rules broken. Shape: errors only; empty unless the fault is <see cref="ProposalFault.Invalid"/>.</summary>
    public IReadOnlyList<TableFinding> Findings { get; init; } = [];

    /// <summary>What was changed since. Shape: empty unless the fault is <see cref="ProposalFault.Outdated"/>.</summary>
    public IReadOnlyList<RecordChange> Conflicts { get; init; } = [];
}

/// <summary>Why a proposal was not written.</summary>
public enum ProposalFault
{
    /// <summary>It was.</summary>
    None,

    /// <summary>There is no such proposal.</summary>
    NotFound,

    /// <summary>Somebody wrote it since the revision named.</summary>
    Stale,

    /// <summary>It hasn't come that far, or is past it.</summary>
    WrongState,

    /// <summary>An author may not review or release; it takes a second person.</summary>
    SamePerson,

    /// <summary>Records it changes were changed by a version released since.</summary>
    Outdated,

    /// <summary>The table it makes breaks a rule.</summary>
    Invalid,

    /// <summary>It changes nothing.</summary>
    Empty,
}

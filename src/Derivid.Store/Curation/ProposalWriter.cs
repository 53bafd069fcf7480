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
        if (more is not null)
        {
            await more(context, after, cancellation);
        }

        return new Audited<ProposalWrite>(
            new ProposalWrite(ProposalFault.None, after), new AuditedAct(step.Action, "proposals/" + id, before!.BaseVersion));
    }

    /// <summary>What stands in the way of a step.</summary>
    public static ProposalFault FaultOf(Proposal? proposal, int revision, ProposalStep step) =>
        proposal is null ? ProposalFault.NotFound
        : proposal.Revision != revision ? ProposalFault.Stale
        : !step.From.Contains(proposal.State) ? ProposalFault.WrongState
        : ProposalFault.None;
}

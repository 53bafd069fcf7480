using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Makes a reviewed proposal the next version of the table.</summary>
/// <param name="database">Where versions are kept.</param>
/// <param name="audit">Takes down who released.</param>
/// <param name="time">The clock.</param>
public sealed class Releases(DerividDatabase database, AuditTrail audit, TimeProvider time)
{
    private readonly ProposalWriter _writer = new(audit, time);

    /// <summary>Releases a proposal: rows it ends are marked, rows it brings are added, nothing released is altered.</summary>
    /// <param name="origin">Who, and why.</param>
    /// <param name="id">The proposal.</param>
    /// <param name="revision">The revision the releaser saw.</param>
    /// <param name="note">What the version is to say of itself. Missing: null, the proposal's title.</param>
    /// <param name="allowsAuthor">Whether an author may release.</param>
    /// <param name="check">Finds what is wrong with the table about to be released; an error stops it.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was released.</exception>
    public async Task<ProposalWrite> ReleaseAsync(
        AuditOrigin origin, string id, int revision, string? note, bool allowsAuthor,
        Func<ReferenceTable, IReadOnlyList<TableFinding>> check, CancellationToken cancellation)
    {
        try
        {
            // Alone: two releases at once would both make the same version.
            return await audit.WriteAloneAsync(
                origin,
                async (context, token) =>
                {
                    var current = await context.TableVersions.MaxAsync(version => version.Number, token);
                    var step = new ProposalStep("proposal.release", [ProposalState.Reviewed], row => row with
                    {
                        State = ProposalState.Released,
                        ReleasedVersion = current + 1,
                    })
                    {
                        NotBy = allowsAuthor ? null : origin.Actor,
                        Said = new StepWord(origin.Actor, note ?? origin.Reason, RemarkOccasion.Release),
                    };
                    var proposal = await context.Proposals.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token);
                    var fault = ProposalWriter.FaultOf(proposal, revision, step);
                    return fault == ProposalFault.None
                        ? await ReleaseAsync(context, proposal!, step, current, note, check, token)
                        : new Audited<ProposalWrite>(new ProposalWrite(fault, proposal));
                },
                cancellation);
        }
        catch (DbUpdateConcurrencyException)
        {
            return new ProposalWrite(ProposalFault.Stale, null);
        }
    }

    private async Task<Audited<ProposalWrite>> ReleaseAsync(
        DerividContext context, Proposal proposal, ProposalStep step, int current, string? note,
        Func<ReferenceTable, IReadOnlyList<TableFinding>> check, CancellationToken cancellation)
    {
        var before = await ReferenceTables.RowsAsync(context, current, cancellation);
        var proposed = await Proposals.RecordsAsync(context, proposal.Id, cancellation);
        var table = new ProposedTable(before, proposed, current + 1);
        var (after, changes) = (table.After, table.Changes);
        if (changes.Count == 0)
        {
            return Refused(new ProposalWrite(ProposalFault.Empty, proposal));
        }

        var conflicts = await ConflictsAsync(context, proposal, table, cancellation);
        if (conflicts.Count > 0)
        {
            return Refused(new ProposalWrite(ProposalFault.Outdated, proposal) { Conflicts = conflicts });
        }

        var errors = check(after).Where(finding => finding.Severity == FindingSeverity.Error).ToList();
        if (errors.Count > 0)
        {
            return Refused(new ProposalWrite(ProposalFault.Invalid, proposal) { Findings = errors });
        }

        var written = await _writer.WriteAsync(context, proposal.Id, proposal.Revision, step, null, cancellation);
        var version = TableVersion.Of(after, note ?? proposal.Title, time.GetUtcNow().UtcDateTime, seedHash: null);
        await context.EndRowsAsync(changes, after.Version, cancellation);
        await context.InsertAsync(RowsAddedBy(changes, after), version, cancellation);
        await database.Engine.AnnounceReleaseAsync(context, cancellation);
        return written;
    }

    // Versions released since the proposal's own may have changed the same records; its authors should see that first.
    private static async Task<IReadOnlyList<RecordChange>> ConflictsAsync(
        DerividContext context, Proposal proposal, ProposedTable table, CancellationToken cancellation)
    {
        if (proposal.BaseVersion == table.Before.Version)
        {
            return [];
        }

        var touched = table.Records.Select(row => (row.TableName, row.RecordKey)).ToHashSet();
        var seen = await ReferenceTables.RowsAsync(context, proposal.BaseVersion, cancellation);
        return [.. TableDifferences.Between(seen, table.Before)
            .Where(change => touched.Contains((change.Kind.TableName, change.Key)))];
    }

    private static ReferenceTable RowsAddedBy(IReadOnlyList<RecordChange> changes, ReferenceTable after) =>
        after.Lists().Aggregate(after, (added, list) => added.With(
            list.Kind, changes.Where(change => change.Kind == list.Kind).Select(change => change.After).OfType<object>()));

    private static Audited<ProposalWrite> Refused(ProposalWrite refusal) => new(refusal);
}

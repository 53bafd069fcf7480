using System.Globalization;
using Derivid.Core.Curation;
using Derivid.Store.Access;
using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Tables;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Curation;

/// <summary>Reads a file into a proposal: every row is checked, then all are written, or none.</summary>
/// <remarks>In memory at a time, of one import of the process: the proposed table and the records of the file.</remarks>
/// <param name="jobs">Where imports are kept.</param>
/// <param name="proposals">Where proposals are kept.</param>
/// <param name="tables">Where versions of the table are kept.</param>
/// <param name="audit">Takes down who changed the proposal.</param>
/// <param name="time">The clock.</param>
public sealed class Imports(ImportJobs jobs, Proposals proposals, ReferenceTables tables, AuditTrail audit, TimeProvider time)
{
    /// <summary>Most faults kept of one import; with more of them its reading stops. Chosen: nobody reads more, and they stay in the database.</summary>
    public const int MostFaults = 20_000;

    /// <summary>Most rows of one import. Chosen: they are in memory together, and twice what the tests time.</summary>
    public const int MostRows = 100_000;

    private const int FaultsWrittenAtOnce = 500;

    private const string NoMemory =
        "There was not enough memory to read the file to its end. Nothing was taken; send it in parts, or when less is going on.";

    private const string OwnFault =
        "The file could not be read to its end for a fault of the service, which is in its log. Nothing was taken; whoever runs the service can look.";

    private readonly ProposalWriter _writer = new(audit, time);

    /// <summary>Runs an import to its end, whatever that is.</summary>
    /// <param name="job">The import.</param>
    /// <param name="rows">Its rows.</param>
    /// <param name="progress">Takes how far it has come.</param>
    /// <param name="origin">Who sent it.</param>
    /// <param name="calledOff">Calls it off.</param>
    /// <param name="stopping">Breaks it off, because its process ends.</param>
    /// <returns>How it ended.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was taken.</exception>
    /// <exception cref="Exception">It broke off by a fault of this program, or for want of memory; nothing was taken, and it has ended with word of that.</exception>
    public async Task<ImportState> RunAsync(
        ImportJob job, ImportRows rows, ImportProgress progress, AuditOrigin origin, CancellationToken calledOff, CancellationToken stopping)
    {
        using var either = CancellationTokenSource.CreateLinkedTokenSource(calledOff, stopping);
        try
        {
            if (await jobs.BeginAsync(job.Id, either.Token))
            {
                return await ReadAsync(job, rows, progress, origin, either.Token);
            }
        }
        catch (OperationCanceledException) when (calledOff.IsCancellationRequested)
        {
            // Ended below, like one that was called off while it waited.
        }
        catch (OperationCanceledException) when (stopping.IsCancellationRequested)
        {
            return await EndAsync(job, ImportState.Interrupted, ImportJobs.ProcessEnded, progress, CancellationToken.None);
        }
        catch (KeySpentException)
        {
            return await EndAsync(job, ImportState.Failed, "The key it was sent with was revoked or has expired meanwhile; nothing was taken.", progress, CancellationToken.None);
        }
        catch (Exception fault) when (fault is not (OperationCanceledException or DatabaseUnavailableException))
        {
            await EndAsync(job, ImportState.Interrupted, fault is OutOfMemoryException ? NoMemory : OwnFault, progress, CancellationToken.None);
            throw;
        }

        return await EndAsync(job, ImportState.Cancelled, "Called off; nothing was taken.", progress, CancellationToken.None);
    }

    private async Task<ImportState> EndAsync(
        ImportJob job, ImportState state, string sentence, ImportProgress progress, CancellationToken cancellation)
    {
        await jobs.EndAsync(job.Id, state, sentence, progress, cancellation);
        return state;
    }

    private async Task<ImportState> ReadAsync(
        ImportJob job, ImportRows rows, ImportProgress progress, AuditOrigin origin, CancellationToken cancellation)
    {
        var proposal = await proposals.FindAsync(job.ProposalId, cancellation);
        var released = await tables.LoadAsync(proposal!.BaseVersion, cancellation);
        var table = (await proposals.ProposedOnAsync(job.ProposalId, released!, cancellation)).After;
        var reading = new ImportReading(job, rows, table, progress, cancellation);
        await CheckAsync(reading, cancellation);
        return progress.Faults > 0
            ? await EndAsync(job, ImportState.Failed, reading.FaultsSentence, progress, cancellation)
            : job.IsDryRun
            ? await EndAsync(job, ImportState.Succeeded, "Every row can be taken. This was a dry run: nothing was changed.", progress, cancellation)
            : await WriteAsync(reading, origin, cancellation);
    }

    private async Task CheckAsync(ImportReading reading, CancellationToken cancellation)
    {
        foreach (var faults in reading.Faults().Chunk(FaultsWrittenAtOnce))
        {
            await jobs.AddFaultsAsync(faults, cancellation);
        }
    }

    private async Task<ImportState> WriteAsync(ImportReading reading, AuditOrigin origin, CancellationToken cancellation)
    {
        var (job, progress) = (reading.Job, reading.Progress);
        var now = time.GetUtcNow().UtcDateTime;
        var written = await _writer.WriteAsync(
            origin, job.ProposalId, job.Revision,
            new ProposalStep("proposal.import", [ProposalState.Draft], row => row.By(origin)) { Part = "/imports/" + job.Id },
            async (context, _, token) =>
            {
                await context.InsertAsync(
                    reading.Changes().Select(change => new ProposedRecord(
                        job.ProposalId, change.Kind.TableName, change.Key, RecordText.Write(change.After), origin.Actor, now)),
                    StoredRow.GivesWay, token);
                if (await jobs.EndAsync(context, job.Id, ImportState.Succeeded, "Every row was taken into the proposal.", progress, token) == 0)
                {
                    throw new DbUpdateConcurrencyException("The import ended while its rows were written.");
                }
            },
            cancellation);
        return written.Fault == ProposalFault.None
            ? ImportState.Succeeded
            : await EndAsync(
                job, ImportState.Failed, string.Create(
                    CultureInfo.InvariantCulture,
                    $"The proposal was changed since revision {job.Revision}, for which the file was sent. Nothing was taken; look at the proposal and send the file again."),
                progress, cancellation);
    }
}

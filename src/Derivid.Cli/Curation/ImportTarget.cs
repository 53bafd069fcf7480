using Derivid.Client.Curation;
using Derivid.Client.Problems;

namespace Derivid.Cli.Curation;

/// <summary>The proposal an import goes into. One made for it is given up again unless rows were taken into it.</summary>
internal sealed class ImportTarget(Session session, string? reason)
{
    private static readonly TimeSpan LastWords = TimeSpan.FromSeconds(10);

    private bool _isMade;

    public Task<ProposalItem> FindAsync(string id, CancellationToken cancellationToken) =>
        session.Client.Proposals.GetAsync(id, cancellationToken);

    public async Task<ProposalItem> MakeAsync(string title, CancellationToken cancellationToken)
    {
        var made = await session.Client.Proposals.CreateAsync(
            new ProposalRequest { Title = title, Reason = reason }, reason, cancellationToken);
        _isMade = true;
        return made;
    }

    public async Task<ImportResult> LoadAsync(
        ProposalItem proposal, ImportFile file, bool dryRun, CancellationToken cancellationToken)
    {
        var isTaken = false;
        try
        {
            var started = await session.Client.Imports.StartAsync(proposal, file, dryRun, reason, cancellationToken);
            var ended = await FollowAsync(started, cancellationToken);
            isTaken = !dryRun && ended.State == ImportState.Succeeded;
            var faults = await session.Client.Imports.ListFaultsAsync(ended.Id, cancellationToken).ToListAsync(cancellationToken);
            return new ImportResult(ended, faults);
        }
        finally
        {
            if (_isMade && !isTaken)
            {
                await TryAsync(async token => await session.Client.Proposals.WithdrawAsync(
                    await session.Client.Proposals.GetAsync(proposal.Id, token), "nothing was taken into it", token));
            }
        }
    }

    private async Task<ImportItem> FollowAsync(ImportItem started, CancellationToken cancellationToken)
    {
        try
        {
            return await ImportProgressBar.FollowAsync(session, started, cancellationToken);
        }
        catch (OperationCanceledException)
        {
            await TryAsync(token => session.Client.Imports.CancelAsync(started.Id, cancellationToken: token));
            throw;
        }
    }

    // Tidying up must not hide what went wrong before.
    private static async Task TryAsync(Func<CancellationToken, Task> tidy)
    {
        using var patience = new CancellationTokenSource(LastWords);
        try
        {
            await tidy(patience.Token);
        }
        catch (Exception fault) when (fault is DerividException or HttpRequestException or OperationCanceledException)
        {
        }
    }
}

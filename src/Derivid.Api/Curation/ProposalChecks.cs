using Derivid.Api.Http;
using Derivid.Core.Curation;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>Holds proposals against the rules: one at a time in this process, and each revision once.</summary>
/// <remarks>
/// A whole table is put together, checked and laid out, which takes a processor for seconds and memory for a table of a proposal's own; what comes
/// of it hangs on proposal and revision alone. Thread safety: safe.
/// </remarks>
/// <param name="proposals">Where proposals are kept.</param>
/// <param name="proposed">Works out what they come to.</param>
/// <param name="checks">Finds what is wrong with that.</param>
public sealed class ProposalChecks(Proposals proposals, ProposedTables proposed, TableChecks checks) : IDisposable
{
    /// <summary>Most findings told of a proposal.</summary>
    public const int MostFindings = 1000;

    // Chosen: those of a busy afternoon, some hundred KB each at most.
    private const int MostHeld = 16;

    private readonly Lock _gate = new();
    private readonly OrderedDictionary<string, CheckedProposal> _held = new(StringComparer.Ordinal);
    private readonly SemaphoreSlim _checking = new(1);

    /// <summary>Waits until no other table is being checked.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Lets the next one in.</returns>
    public async Task<IDisposable> TurnAsync(CancellationToken cancellationToken)
    {
        await _checking.WaitAsync(cancellationToken);
        return new Turn(_checking);
    }

    /// <summary>What is wrong with a proposal.</summary>
    /// <param name="proposal">The proposal, as it was found.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<Outcome<CheckedProposal>> OfAsync(Proposal proposal, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(proposal);
        if (HeldOf(proposal) is { } held)
        {
            return held;
        }

        using var turn = await TurnAsync(cancellationToken);
        if (HeldOf(proposal) is { } meanwhile)
        {
            return meanwhile;
        }

        if (!(await proposed.OfAsync(proposal, cancellationToken)).Succeeded(out var table, out var problem))
        {
            return problem;
        }

        var found = checks.Check(table.After, table.Before, cancellationToken);
        var known = TableValidation.Of(table.Before, null, cancellationToken).ToHashSet();
        var told = CheckedProposal.Of(proposal.Revision, table.Changes.Count, found, known);

        // Its records were read after it was found; of another revision by then, this is what is wrong with neither for sure.
        if ((await proposals.FindAsync(proposal.Id, cancellationToken))?.Revision == proposal.Revision)
        {
            Hold(proposal.Id, told);
        }

        return told;
    }

    /// <inheritdoc/>
    public void Dispose() => _checking.Dispose();

    private CheckedProposal? HeldOf(Proposal proposal)
    {
        lock (_gate)
        {
            return _held.GetValueOrDefault(proposal.Id) is { } held && held.Revision == proposal.Revision ? held : null;
        }
    }

    private void Hold(string id, CheckedProposal told)
    {
        lock (_gate)
        {
            // The one looked at last comes last.
            _held.Remove(id);
            if (_held.Count == MostHeld)
            {
                _held.RemoveAt(0);
            }

            _held.Add(id, told);
        }
    }

    private sealed class Turn(SemaphoreSlim checking) : IDisposable
    {
        public void Dispose() => checking.Release();
    }
}

/// <summary>What is wrong with one revision of a proposal.</summary>
/// <param name="Revision">The revision.</param>
/// <param name="Changes">How many records it changes.</param>
/// <param name="Errors">How many errors there are.</param>
/// <param name="Warnings">How many warnings.</param>
/// <param name="NewWarnings">How many of them the version it starts from doesn't draw.</param>
/// <param name="Findings">
/// They, and whether that version draws them not. Shape: errors first, new ones first among each; at most <see cref="ProposalChecks.MostFindings"/>.
/// </param>
public sealed record CheckedProposal(
    int Revision, int Changes, int Errors, int Warnings, int NewWarnings, IReadOnlyList<(TableFinding Finding, bool IsNew)> Findings)
{
    internal static CheckedProposal Of(int revision, int changes, IReadOnlyList<TableFinding> found, HashSet<TableFinding> known) => new(
        revision,
        changes,
        found.Count(finding => finding.Severity == FindingSeverity.Error),
        found.Count(finding => finding.Severity == FindingSeverity.Warning),
        found.Count(finding => finding.Severity == FindingSeverity.Warning && !known.Contains(finding)),
        [.. found.Select(finding => (Finding: finding, IsNew: !known.Contains(finding)))
            .OrderBy(each => each.Finding.Severity).ThenByDescending(each => each.IsNew).Take(ProposalChecks.MostFindings)]);
}

using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Ranking;
using Derivid.Store.Curation;

namespace Derivid.Api.Curation;

/// <summary>Works out what proposals come to.</summary>
/// <param name="tables">The versions they start from.</param>
/// <param name="proposals">Where they are kept.</param>
public sealed class ProposedTables(TableSnapshots tables, Proposals proposals)
{
    /// <summary>The table a proposal starts from, and what differs in the one it makes.</summary>
    /// <param name="proposal">The proposal.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task<Outcome<ProposedTable>> OfAsync(Proposal proposal, CancellationToken cancellationToken)
    {
        ArgumentNullException.ThrowIfNull(proposal);
        return (await tables.FindAsync(proposal.BaseVersion, cancellationToken)).Succeeded(out var served, out var problem)
            ? await proposals.ProposedOnAsync(proposal.Id, served.Table, cancellationToken)
            : problem;
    }
}

/// <summary>Finds what is wrong with a table before it is released: the rules, and whether it can be ranked on at all.</summary>
/// <param name="settings">The model's settings.</param>
public sealed class TableChecks(ModelSettings settings)
{
    /// <summary>Checks the table that a proposal makes.</summary>
    /// <param name="table">The table.</param>
    /// <param name="before">The one it starts from. Missing: null.</param>
    /// <param name="cancellation">Gives up.</param>
    /// <returns>Shape: errors before warnings.</returns>
    public IReadOnlyList<TableFinding> Check(ReferenceTable table, ReferenceTable? before, CancellationToken cancellation)
    {
        var findings = TableValidation.Of(table, before, cancellation);
        cancellation.ThrowIfCancellationRequested();
        if (findings.Any(finding => finding.Severity == FindingSeverity.Error))
        {
            return findings;
        }

        try
        {
            _ = new ServedTable(table, settings);
            return findings;
        }
        catch (Exception fault) when (fault is ArgumentException or InvalidOperationException or KeyNotFoundException)
        {
            // A rule is missing; better to refuse this table than to serve nothing.
            return [new TableFinding(FindingSeverity.Error, RecordKinds.Parents, "", "", "", "a table that can be ranked on: " + fault.Message)];
        }
    }
}

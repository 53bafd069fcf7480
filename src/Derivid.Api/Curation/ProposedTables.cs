using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Core.Curation;
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
        if (!(await tables.FindAsync(proposal.BaseVersion, cancellationToken)).Succeeded(out var served, out var problem))
        {
            return problem;
        }

        var records = await proposals.RecordsAsync(proposal.Id, cancellationToken);
        var after = TableDifferences.Apply(
            served.Table,
            records.Select(record => new RecordChange(record.Kind, record.RecordKey, null, record.Record)),
            served.Table.Version);
        return new ProposedTable(served.Table, after, TableDifferences.Between(served.Table, after));
    }
}

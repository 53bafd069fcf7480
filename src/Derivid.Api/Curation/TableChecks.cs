using Derivid.Api.Table;
using Derivid.Core.Compounds;
using Derivid.Core.Curation;
using Derivid.Core.Ranking;

namespace Derivid.Api.Curation;

/// <summary>Finds what is wrong with a table before it is released: the rules, and whether it can be ranked on at all.</summary>
/// <param name="settings">The model's settings.</param>
public sealed class TableChecks(ModelSettings settings)
{
    /// <summary>Checks a table.</summary>
    /// <param name="table">The table.</param>
    /// <returns>Shape: errors before warnings.</returns>
    public IReadOnlyList<TableFinding> Check(ReferenceTable table)
    {
        var findings = TableValidation.Of(table);
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
            return [new TableFinding(FindingSeverity.Error, RecordKind.Parent, "", "", "", "a table that can be ranked on: " + fault.Message)];
        }
    }
}

using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Everything that stands in the way of a table's release, and everything a curator should look at.</summary>
public static class TableValidation
{
    /// <summary>Checks a whole table: record by record, then record against record.</summary>
    /// <param name="table">The table, ordered as <see cref="ReferenceTableOrder"/> orders it.</param>
    /// <returns>
    /// Shape: errors before warnings, each by kind of record, then key. A table without errors can be ranked on.
    /// </returns>
    public static IReadOnlyList<TableFinding> Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var index = new TableIndex(table);
        var found = new List<TableFinding>();
        foreach (var type in RecordTypes.All)
        {
            foreach (var row in type.RowsOf(table))
            {
                found.AddRange(RecordRules.Check(type.Kind, row, index));
            }
        }

        RepetitionRules.Check(table, found);
        OrderRules.Check(table, found);
        var areKeysFound = found.TrueForAll(finding => finding.Severity != FindingSeverity.Error);
        if (areKeysFound)
        {
            // These follow keys from record to record, so they wait until every key leads somewhere.
            AgreementRules.Check(table, found);
            FamilyRules.Check(index, found);
            PlausibilityRules.Check(table, found);
        }

        UseRules.Check(table, found);
        return
        [
            .. found.OrderBy(finding => finding.Severity).ThenBy(finding => finding.Kind)
                .ThenBy(finding => finding.Key, StringComparer.Ordinal),
        ];
    }
}

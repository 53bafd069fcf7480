using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Everything that stands in the way of a table's release, and everything a curator should look at.</summary>
public static class TableValidation
{
    /// <summary>Checks a whole table: record by record, then record against record.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <returns>
    /// Shape: errors before warnings, each by kind of record, then key. A table without errors can be ranked on.
    /// </returns>
    public static IReadOnlyList<TableFinding> Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var index = new TableIndex(table);
        var found = Broken(table, index);
        var areKeysFound = found.TrueForAll(finding => finding.Severity != FindingSeverity.Error);
        if (areKeysFound)
        {
            // These follow keys from record to record, so they wait until every key leads somewhere.
            AgreementRules.Check(table, found);
            FamilyRules.Check(index, found);
            PlausibilityRules.Check(table, found);
        }

        UseRules.Check(table, found);
        return Ordered(table, found);
    }

    /// <summary>All that stands in the way of a table's release, without what a curator should only look at.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <returns>Shape: as of <see cref="Of"/>, errors only.</returns>
    public static IReadOnlyList<TableFinding> ErrorsOf(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        return Ordered(table, Broken(table, new TableIndex(table)).Where(finding => finding.Severity == FindingSeverity.Error));
    }

    // Every error, and what is noteworthy of a record by itself.
    private static List<TableFinding> Broken(ReferenceTable table, TableIndex index)
    {
        var found = new List<TableFinding>();
        foreach (var (kind, rows) in table.Lists())
        {
            foreach (var row in rows)
            {
                found.AddRange(RecordRules.Check(kind, row, index));
            }
        }

        RepetitionRules.Check(table, found);
        OrderRules.Check(table, found);
        return found;
    }

    private static IReadOnlyList<TableFinding> Ordered(ReferenceTable table, IEnumerable<TableFinding> found)
    {
        var places = table.Lists().Index().ToDictionary(list => list.Item.Kind, list => list.Index);
        return
        [
            .. found.OrderBy(finding => finding.Severity).ThenBy(finding => places[finding.Kind])
                .ThenBy(finding => finding.Key, StringComparer.Ordinal),
        ];
    }
}

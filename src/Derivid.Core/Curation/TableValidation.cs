using Derivid.Core.Compounds;

namespace Derivid.Core.Curation;

/// <summary>Everything that stands in the way of a table's release, and everything a curator should look at.</summary>
public static class TableValidation
{
    /// <summary>Checks a whole table: record by record, then record against record.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <returns>
    /// Shape: errors before warnings, and among these what isn't there yet last; each by kind of record, then key. A table without
    /// errors can be ranked on.
    /// </returns>
    public static IReadOnlyList<TableFinding> Of(ReferenceTable table) => Of(table, null);

    /// <summary>Checks the table that a proposal makes, also against the one it starts from.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <param name="before">
    /// The one it starts from: of two records that don't go together, the one that isn't in it as it is now is told. Missing: null.
    /// </param>
    /// <returns>Shape: as of <see cref="Of(ReferenceTable)"/>; warnings of replaced structures before all others.</returns>
    /// <param name="cancellation">Gives up, between one record and the next where there are many.</param>
    public static IReadOnlyList<TableFinding> Of(ReferenceTable table, ReferenceTable? before, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(table);
        var index = new TableIndex(table);
        var listed = before is null ? null : new TableIndex(before);
        var found = Broken(table, index, cancellation);
        Compared(table, listed, found);
        cancellation.ThrowIfCancellationRequested();
        var areKeysFound = found.TrueForAll(finding => finding.Severity != FindingSeverity.Error);
        if (areKeysFound)
        {
            // These follow keys from record to record, so they wait until every key leads somewhere.
            AgreementRules.Check(table, found);
            FamilyRules.Check(index, found);
            cancellation.ThrowIfCancellationRequested();
            PlausibilityRules.Check(table, found);
            cancellation.ThrowIfCancellationRequested();
        }

        UseRules.Check(table, found);
        return Ordered(table, found, listed is null ? [] : ReplacementRules.Check(table, listed));
    }

    /// <summary>All that stands in the way of a table's release, without what a curator should only look at.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <returns>Shape: as of <see cref="Of(ReferenceTable)"/>, errors only.</returns>
    public static IReadOnlyList<TableFinding> ErrorsOf(ReferenceTable table) => ErrorsOf(table, int.MaxValue, CancellationToken.None);

    /// <summary>The same, as far as is enough.</summary>
    /// <param name="table">The table, ordered in order (<see cref="ReferenceTable.Ordered"/>).</param>
    /// <param name="most">How many are enough; with so many of single records, what stands between records is not looked for.</param>
    /// <param name="cancellation">Gives up, between one record and the next where there are many.</param>
    /// <returns>Shape: as of <see cref="Of(ReferenceTable)"/>, errors only.</returns>
    public static IReadOnlyList<TableFinding> ErrorsOf(ReferenceTable table, int most, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(table);
        var found = Broken(table, new TableIndex(table), cancellation, most);
        if (found.Count < most)
        {
            Compared(table, null, found);
        }

        return Ordered(table, found.Where(finding => finding.Severity == FindingSeverity.Error).Take(most), []);
    }

    // What is wrong with each record by itself, and what is noteworthy of it; errors only where so many are enough.
    private static List<TableFinding> Broken(ReferenceTable table, TableIndex index, CancellationToken cancellation, int most = int.MaxValue)
    {
        var found = new List<TableFinding>();
        foreach (var (kind, rows) in table.Lists())
        {
            foreach (var row in rows)
            {
                cancellation.ThrowIfCancellationRequested();
                found.AddRange(RecordRules.Check(kind, row, index)
                    .Where(finding => most == int.MaxValue || finding.Severity == FindingSeverity.Error));
                if (found.Count >= most)
                {
                    return found;
                }
            }
        }

        return found;
    }

    private static void Compared(ReferenceTable table, TableIndex? listed, List<TableFinding> found)
    {
        RepetitionRules.Check(table, listed, found);
        OrderRules.Check(table, found);
    }

    private static IReadOnlyList<TableFinding> Ordered(
        ReferenceTable table, IEnumerable<TableFinding> found, IEnumerable<TableFinding> firstWarnings)
    {
        var places = table.Lists().Index().ToDictionary(list => list.Item.Kind, list => list.Index);
        var ordered = found.OrderBy(finding => finding.Severity).ThenBy(finding => finding.IsRote).ThenBy(finding => places[finding.Kind])
            .ThenBy(finding => finding.Key, StringComparer.Ordinal).ToList();
        return
        [
            .. ordered.Where(finding => finding.Severity == FindingSeverity.Error),
            .. firstWarnings,
            .. ordered.Where(finding => finding.Severity != FindingSeverity.Error),
        ];
    }
}

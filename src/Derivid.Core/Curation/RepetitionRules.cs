using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>Nothing stands for two things, and nothing is recorded twice.</summary>
internal static class RepetitionRules
{
    /// <param name="table">The table.</param>
    /// <param name="listed">The table it was made from, whose records stand and aren't told for those that came. Missing: null.</param>
    /// <param name="found">Takes what is wrong.</param>
    public static void Check(ReferenceTable table, TableIndex? listed, List<TableFinding> found)
    {
        foreach (var (kind, rows) in table.Lists())
        {
            Report(
                rows.GroupBy(kind.KeyOf, StringComparer.Ordinal),
                (_, key, _) => For(kind, key, found).Require(false, "Key", key, "one record of a key; this one stands twice"));
            CheckNames(kind, rows, listed, found);
        }

        Report(
            ListedFirst(table.Parents, listed, row => row.CasNumber).Where(row => row.CasNumber is not null)
                .GroupBy(row => row.CasNumber, StringComparer.Ordinal),
            (row, number, first) => For(RecordKinds.Parents, row.Key, found).Require(
                false, nameof(row.CasNumber), number, $"a CAS number of its own; {first.Key} has this one"));
        Report(
            ListedFirst(table.Parents, listed, row => row.Smiles).GroupBy(row => FingerprintOf(row.Smiles) ?? row.Key, StringComparer.Ordinal),
            (row, _, first) => For(RecordKinds.Parents, row.Key, found).Expect(
                false, nameof(row.Smiles), row.Smiles, $"another structure than {first.Key}; unless only the configuration differs, the two are one compound"));
        Report(
            table.Derivatives.GroupBy(row => row with { Key = "", Note = null }),
            (row, _, first) => For(RecordKinds.Derivatives, row.Key, found).Require(
                false, nameof(row.Key), row.Key, $"a record that says something else than {first.Key}"));
    }

    // Those whose value the table that this one was made from has as well, then the others; each in their order.
    private static IEnumerable<Parent> ListedFirst(IEnumerable<Parent> rows, TableIndex? listed, Func<Parent, string?> value) =>
        listed is null ? rows : rows.OrderBy(row => listed.Find(RecordKinds.Parents, row.Key) is not { } known || value(known) != value(row));

    private static string? FingerprintOf(string smiles) =>
        SmilesReader.Read(smiles).Molecule is { } molecule ? StructureFingerprint.Of(molecule) : null;

    // Whatever has synonyms is looked up by name.
    private static void CheckNames(RecordKind kind, IReadOnlyList<object> rows, TableIndex? listed, List<TableFinding> found)
    {
        if (kind.Columns.FirstOrDefault(column => column.Field == "Name") is not { } name
            || kind.Columns.FirstOrDefault(column => column.Field == "Synonyms") is not { } synonyms)
        {
            return;
        }

        IReadOnlyList<string> NamesOf(object row) => [.. (IReadOnlyList<string>)synonyms.Of(row)!, (string)name.Of(row)!];

        bool IsListed(string key, string each) =>
            listed?.Find(kind, key) is { } known && NamesOf(known).Contains(each, StringComparer.OrdinalIgnoreCase);

        var names = rows.SelectMany(row => NamesOf(row).Distinct(StringComparer.OrdinalIgnoreCase).Select(each => (Key: kind.KeyOf(row), Name: each)));
        if (listed is not null)
        {
            names = names.OrderBy(each => !IsListed(each.Key, each.Name));
        }

        Report(
            names.GroupBy(each => each.Name, StringComparer.OrdinalIgnoreCase),
            (each, repeated, first) => For(kind, each.Key, found).Require(false, "Name", repeated, $"a name of its own; {first.Key} has this one"));
    }

    // The first of each group stands; the others are reported beside it.
    private static void Report<TKey, T>(IEnumerable<IGrouping<TKey, T>> groups, Action<T, TKey, T> report)
    {
        foreach (var group in groups)
        {
            foreach (var repeated in group.Skip(1))
            {
                report(repeated, group.Key, group.First());
            }
        }
    }

    private static RecordFindings For(RecordKind kind, string key, List<TableFinding> found) => new(kind, key, found);
}

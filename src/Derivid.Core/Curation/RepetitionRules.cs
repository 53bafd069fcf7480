using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>Nothing stands for two things, and nothing is recorded twice.</summary>
internal static class RepetitionRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        foreach (var (kind, rows) in table.Lists())
        {
            Report(
                rows.GroupBy(kind.KeyOf, StringComparer.Ordinal),
                (_, key, _) => For(kind, key, found).Require(false, "Key", key, "one record of a key; this one stands twice"));
            CheckNames(kind, rows, found);
        }

        Report(
            table.Parents.Where(row => row.CasNumber is not null).GroupBy(row => row.CasNumber, StringComparer.Ordinal),
            (row, number, first) => For(RecordKinds.Parents, row.Key, found).Require(
                false, nameof(row.CasNumber), number, $"a CAS number of its own; {first.Key} has this one"));
        Report(
            table.Parents.GroupBy(row => FingerprintOf(row.Smiles) ?? row.Key, StringComparer.Ordinal),
            (row, _, first) => For(RecordKinds.Parents, row.Key, found).Expect(
                false, nameof(row.Smiles), row.Smiles, $"another structure than {first.Key}; unless only the configuration differs, the two are one compound"));
        Report(
            table.Derivatives.GroupBy(row => row with { Key = "", Note = null }),
            (row, _, first) => For(RecordKinds.Derivatives, row.Key, found).Require(
                false, nameof(row.Key), row.Key, $"a record that says something else than {first.Key}"));
    }

    private static string? FingerprintOf(string smiles) =>
        SmilesReader.Read(smiles).Molecule is { } molecule ? StructureFingerprint.Of(molecule) : null;

    // Whatever has synonyms is looked up by name.
    private static void CheckNames(RecordKind kind, IReadOnlyList<object> rows, List<TableFinding> found)
    {
        if (kind.Columns.FirstOrDefault(column => column.Field == "Name") is not { } name
            || kind.Columns.FirstOrDefault(column => column.Field == "Synonyms") is not { } synonyms)
        {
            return;
        }

        var names = rows.SelectMany(row => ((IReadOnlyList<string>)synonyms.Of(row)!).Append((string)name.Of(row)!)
            .Distinct(StringComparer.OrdinalIgnoreCase).Select(each => (Key: kind.KeyOf(row), Name: each)));
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

using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>Nothing stands for two things, and nothing is recorded twice.</summary>
internal static class RepetitionRules
{
    public static void Check(ReferenceTable table, List<TableFinding> found)
    {
        foreach (var type in RecordTypes.All)
        {
            Report(
                type.RowsOf(table).GroupBy(type.KeyOf, StringComparer.Ordinal),
                (_, key, _) => For(type.Kind, key, found).Require(false, "Key", key, "one record of a key; this one stands twice"));
        }

        CheckNames(RecordKind.Parent, table.Parents.SelectMany(row => Named(row.Key, row.Name, row.Synonyms)), found);
        CheckNames(RecordKind.DerivativeKind, table.Kinds.SelectMany(row => Named(row.Key, row.Name, row.Synonyms)), found);
        CheckNames(RecordKind.SpotTest, table.SpotTests.SelectMany(row => Named(row.Key, row.Name, row.Synonyms)), found);
        CheckNames(RecordKind.Colour, table.Colours.SelectMany(row => Named(row.Key, row.Name, row.Synonyms)), found);
        Report(
            table.Parents.GroupBy(row => row.CasNumber, StringComparer.Ordinal),
            (row, number, first) => For(RecordKind.Parent, row.Key, found).Require(
                false, nameof(row.CasNumber), number, $"a CAS number of its own; {first.Key} has this one"));
        Report(
            table.Parents.GroupBy(row => FingerprintOf(row.Smiles) ?? row.Key, StringComparer.Ordinal),
            (row, _, first) => For(RecordKind.Parent, row.Key, found).Expect(
                false, nameof(row.Smiles), row.Smiles, $"another structure than {first.Key}; unless only the configuration differs, the two are one compound"));
        Report(
            table.Derivatives.GroupBy(row => row with { Key = "", Note = null }),
            (row, _, first) => For(RecordKind.Derivative, row.Key, found).Require(
                false, nameof(row.Key), row.Key, $"a record that says something else than {first.Key}"));
    }

    private static string? FingerprintOf(string smiles) =>
        SmilesReader.Read(smiles).Molecule is { } molecule ? StructureFingerprint.Of(molecule) : null;

    private static IEnumerable<(string Key, string Name)> Named(string key, string name, IReadOnlyList<string> synonyms) =>
        synonyms.Append(name).Distinct(StringComparer.OrdinalIgnoreCase).Select(each => (key, each));

    private static void CheckNames(RecordKind kind, IEnumerable<(string Key, string Name)> names, List<TableFinding> found) => Report(
        names.GroupBy(each => each.Name, StringComparer.OrdinalIgnoreCase),
        (each, name, first) => For(kind, each.Key, found).Require(false, "Name", name, $"a name of its own; {first.Key} has this one"));

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

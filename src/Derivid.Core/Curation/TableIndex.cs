using Derivid.Core.Compounds;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>What the rules look up in a table: records by key, structures read once.</summary>
/// <remarks>Where a key stands twice the first record counts; the second is a finding of its own. Thread safety: none.</remarks>
public sealed class TableIndex
{
    private readonly Dictionary<string, CarbonylEnvironment?> _environments = new(StringComparer.Ordinal);

    /// <summary>Takes a table, valid or not.</summary>
    /// <param name="table">The table.</param>
    public TableIndex(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        Table = table;
        Sources = ByKey(table.Sources, row => row.Key);
        Parents = ByKey(table.Parents, row => row.Key);
        Kinds = ByKey(table.Kinds, row => row.Key);
        ColourKeys = Keys(table.Colours.Select(row => row.Key));
        QuestionKeys = Keys(table.Questions.Select(row => row.Key));
        TestKeys = Keys(table.SpotTests.Select(row => row.Key));
    }

    /// <summary>The table.</summary>
    public ReferenceTable Table { get; }

    internal Dictionary<string, Source> Sources { get; }

    internal Dictionary<string, Parent> Parents { get; }

    internal Dictionary<string, DerivativeKind> Kinds { get; }

    internal HashSet<string> ColourKeys { get; }

    internal HashSet<string> QuestionKeys { get; }

    internal HashSet<string> TestKeys { get; }

    /// <summary>The carbonyl groups of a structure.</summary>
    /// <param name="smiles">The structure.</param>
    /// <returns>Missing: null, the text can't be read.</returns>
    internal CarbonylEnvironment? EnvironmentOf(string smiles)
    {
        if (!_environments.TryGetValue(smiles, out var environment))
        {
            environment = SmilesReader.Read(smiles).Molecule is { } molecule ? CarbonylEnvironment.Of(molecule) : null;
            _environments.Add(smiles, environment);
        }

        return environment;
    }

    private static Dictionary<string, T> ByKey<T>(IEnumerable<T> rows, Func<T, string> key) =>
        rows.GroupBy(key, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.First(), StringComparer.Ordinal);

    private static HashSet<string> Keys(IEnumerable<string> keys) => keys.ToHashSet(StringComparer.Ordinal);
}

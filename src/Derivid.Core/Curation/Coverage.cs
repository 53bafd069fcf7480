using Derivid.Core.Observations;
using Derivid.Core.Compounds;
using Derivid.Core.SpotTests;
using Derivid.Core.Structures;

namespace Derivid.Core.Curation;

/// <summary>What a table still lacks.</summary>
public sealed record Coverage
{
    /// <summary>
    /// Ranges whose nearer ends lie further apart than this tell two parents apart. Units: °C, a difference. Chosen: the
    /// classical window of ± 5 °C.
    /// </summary>
    public const double SeparatesAboveCelsius = Observation.DefaultWindowCelsius;

    /// <summary>Parents with derivatives of fewer than two kinds. Shape: keys, in order.</summary>
    public required IReadOnlyList<string> WithoutSecondDerivative { get; init; }

    /// <summary>Derivative records that are printed values, and that no independent source or measurement confirms. Shape: keys, in order.</summary>
    public required IReadOnlyList<string> NeverCrossChecked { get; init; }

    /// <summary>Pairs of parents that no spot test and no derivative of the table separates. Shape: by key of the first, then the second.</summary>
    public required IReadOnlyList<InseparablePair> InseparablePairs { get; init; }

    /// <summary>Looks a table through.</summary>
    /// <param name="table">A valid table.</param>
    public static Coverage Of(ReferenceTable table)
    {
        ArgumentNullException.ThrowIfNull(table);
        var kindsByParent = table.Derivatives.ToLookup(row => row.ParentKey, row => row.KindKey, StringComparer.Ordinal);
        return new Coverage
        {
            WithoutSecondDerivative =
                [.. table.Parents.Select(row => row.Key).Where(key => kindsByParent[key].Distinct().Count() < 2)],
            NeverCrossChecked =
                [.. table.Derivatives.Where(row => row.Verification is Verification.Recalled or Verification.Read).Select(row => row.Key)],
            InseparablePairs = [.. Pairs(table)],
        };
    }

    private static IEnumerable<InseparablePair> Pairs(ReferenceTable table)
    {
        var ranges = table.Derivatives.GroupBy(row => (row.ParentKey, row.KindKey))
            .ToDictionary(group => group.Key, group => group.ToList());
        var outcomes = new ExpectedOutcomes(table);
        var kinds = table.Kinds.Select(kind => (kind.Key, Class: StructureClass.Parse(kind.AppliesTo))).ToList();
        var alike = table.Parents.GroupBy(parent =>
        {
            var features = CarbonylEnvironment.Of(SmilesReader.Read(parent.Smiles).Molecule!).Features;
            var forms = kinds.Select(kind => kind.Class.Matches(features) || ranges.ContainsKey((parent.Key, kind.Key)));
            var positive = outcomes.Of(parent.Key, features).Select(outcome => outcome.PositiveRate > 0.5);
            return string.Concat(forms.Concat(positive).Select(answer => answer ? '1' : '0'));
        });
        var pairs =
            from parents in alike.Select(same => same.Select(parent => parent.Key).ToList())
            from i in Enumerable.Range(0, parents.Count)
            from j in Enumerable.Range(i + 1, parents.Count - i - 1)
            let shared = kinds.Select(kind => kind.Key)
                .Where(kind => ranges.ContainsKey((parents[i], kind)) && ranges.ContainsKey((parents[j], kind))).ToList()
            where shared.TrueForAll(kind => !IsSeparated(ranges[(parents[i], kind)], ranges[(parents[j], kind)]))
            select new InseparablePair(parents[i], parents[j], shared);
        return pairs.OrderBy(pair => pair.First, StringComparer.Ordinal).ThenBy(pair => pair.Second, StringComparer.Ordinal);
    }

    // One pair of listed values that come close is enough to leave the two in doubt.
    private static bool IsSeparated(List<Derivative> one, List<Derivative> other) => one.TrueForAll(first =>
        other.TrueForAll(second => Math.Max(first.LowCelsius, second.LowCelsius)
            - Math.Min(first.HighCelsius, second.HighCelsius) > SeparatesAboveCelsius));
}

/// <summary>Two parents that nothing in the table tells apart.</summary>
/// <param name="First">Key of the one.</param>
/// <param name="Second">Key of the other.</param>
/// <param name="SharedKinds">Kinds listed for both, whose ranges are too close. Shape: keys; empty when none is listed for both.</param>
public sealed record InseparablePair(string First, string Second, IReadOnlyList<string> SharedKinds);

using Derivid.Core.Compounds;
using Derivid.Core.Melting;
using Derivid.Core.Observations;

namespace Derivid.Validation.Literature;

/// <summary>How a case stands to what is left of the table.</summary>
public enum LiteratureSet
{
    /// <summary>Another family lists the pair, with another figure.</summary>
    Independent,

    /// <summary>Another family lists the same figure, and both compile: it may be a copy, and proves nothing.</summary>
    Repeated,

    /// <summary>Both of these: whatever another family lists.</summary>
    Listed,

    /// <summary>No other family lists the pair of parent and kind.</summary>
    Unlisted,

    /// <summary>All single values but copies: what somebody with one reading meets, who can't know whether it is listed.</summary>
    OneReading,

    /// <summary>Several listed kinds of one parent at once, at least one of them independent.</summary>
    Several,
}

/// <summary>Printed values of one parent, to be found again in a table that holds no record of their families.</summary>
/// <param name="Set">How it stands to the rest of the table.</param>
/// <param name="ParentKey">The right answer.</param>
/// <param name="Families">The families left out.</param>
/// <param name="Readings">The values, one a kind.</param>
public sealed record LiteratureCase(
    LiteratureSet Set, string ParentKey, IReadOnlyList<string> Families, IReadOnlyList<DerivativeReading> Readings)
{
    /// <summary>Values of one family nearer than this are one observation; others are of another form. Units: °C. Chosen.</summary>
    private const double OtherFormCelsius = 5;

    /// <summary>Kinds and values in words.</summary>
    public string Text => string.Join(
        "; ",
        Readings.Select(reading => FormattableString.Invariant(
            $"{reading.KindKey} {reading.Range!.Value.OnsetCelsius:0.#}-{reading.Range!.Value.ClearPointCelsius:0.#}")));

    /// <summary>All cases.</summary>
    /// <remarks>
    /// A family counts once for each pair and form; a compiled figure that another compiling family has too, within
    /// 0.1 °C, counts once in all.
    /// </remarks>
    public static IReadOnlyList<LiteratureCase> Build(ReferenceTable table)
    {
        var listed = LiteratureValue.Listed(table).ToLookup(value => (value.ParentKey, value.KindKey));
        var single = Distinct(LiteratureValue.Load(table))
            .Select(value => (Value: value, Case: new LiteratureCase(
                SetOf(value, [.. listed[(value.ParentKey, value.KindKey)].Where(other => other.Family != value.Family)]),
                value.ParentKey,
                [value.Family],
                [Reading(value)])))
            .ToList();
        return [
            .. single.Select(one => one.Case),
            .. single
                .GroupBy(one => one.Value.ParentKey, StringComparer.Ordinal)
                .Select(of => Joint([.. of.Select(one => one.Value)], listed))
                .OfType<LiteratureCase>()];
    }

    /// <summary>Whether it belongs to a set.</summary>
    public bool IsIn(LiteratureSet set) =>
        Set == set || set switch
        {
            LiteratureSet.Listed => Set is LiteratureSet.Independent or LiteratureSet.Repeated,
            LiteratureSet.OneReading => Set is LiteratureSet.Independent or LiteratureSet.Unlisted,
            _ => false,
        };

    /// <summary>One value a kind, independent of what is left when every family used is out, if any is.</summary>
    private static LiteratureCase? Joint(
        List<LiteratureValue> values, ILookup<(string ParentKey, string KindKey), LiteratureValue> listed)
    {
        var families = values.Select(value => value.Family).ToHashSet(StringComparer.Ordinal);
        var chosen = values
            .Select(value => (Value: value, Set: SetOf(value, [.. listed[(value.ParentKey, value.KindKey)]
                .Where(other => !families.Contains(other.Family))])))
            .Where(of => of.Set != LiteratureSet.Unlisted)
            .OrderBy(of => of.Set)
            .DistinctBy(of => of.Value.KindKey)
            .OrderBy(of => of.Value.KindKey, StringComparer.Ordinal)
            .ToList();
        return chosen.Count < 2 || chosen.TrueForAll(of => of.Set != LiteratureSet.Independent)
            ? null
            : new LiteratureCase(
                LiteratureSet.Several,
                values[0].ParentKey,
                [.. families.Order(StringComparer.Ordinal)],
                [.. chosen.Select(of => Reading(of.Value))]);
    }

    private static List<LiteratureValue> Distinct(IReadOnlyList<LiteratureValue> values)
    {
        var kept = new List<LiteratureValue>();
        foreach (var value in values)
        {
            var before = kept.Where(other => other.ParentKey == value.ParentKey && other.KindKey == value.KindKey);
            if (!before.Any(other => value.MayRepeat(other)
                || (other.Family == value.Family && value.HighCelsius - other.HighCelsius <= OtherFormCelsius)))
            {
                kept.Add(value);
            }
        }

        return kept;
    }

    private static LiteratureSet SetOf(LiteratureValue value, List<LiteratureValue> others) =>
        others.Count == 0 ? LiteratureSet.Unlisted
        : others.Exists(value.MayRepeat) ? LiteratureSet.Repeated
        : LiteratureSet.Independent;

    private static DerivativeReading Reading(LiteratureValue value) => new(
        value.KindKey,
        new MeltingRange(value.LowCelsius, value.HighCelsius, value.Decomposes),
        Preparation.Recrystallised);
}

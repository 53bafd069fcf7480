using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking;

/// <summary>For one derivative kind, the probabilities of crystals, an oil and nothing, by parent.</summary>
/// <remarks>
/// Evidence and advice both take them from here. The three sum to 1 for every parent and for a compound that is no
/// aldehyde or ketone. Built once a table version; thread safe.
/// </remarks>
public sealed class PrecipitateRates
{
    /// <summary>From here on an open chain is long. Chosen: undecan-6-one and decan-2-one are known to give oils.</summary>
    private const int LongChainCarbons = 9;

    /// <summary>A parent that reacts this often is said to do so readily. Chosen.</summary>
    private const double Readily = 0.85;

    private readonly double[][] _byOutcome;
    private readonly double[] _notCarbonyl;
    private readonly double[] _works;
    private readonly double[] _oils;
    private readonly PrecipitateBehaviour[] _behaviour;
    private readonly PrecipitatePace?[] _pace;
    private readonly SpotTestTable.TestRow? _test;

    private PrecipitateRates(
        DerivativeKind kind, ListedTemperatures listed, TableSnapshot snapshot, SpotTestTable.TestRow? test)
    {
        var settings = snapshot.Settings.Precipitate;
        var count = snapshot.Parents.Count;
        _test = test;
        _oils = Oils(listed, settings);
        _behaviour = [.. Enumerable.Range(0, count).Select(parent => listed.CanHave(parent)
            ? BehaviourOf(snapshot, parent, kind.ClosesTo)
            : PrecipitateBehaviour.NotFormed)];
        _pace = [.. _behaviour.Select((behaviour, parent) =>
            behaviour is PrecipitateBehaviour.NotFormed or PrecipitateBehaviour.ClosesRing
                ? (PrecipitatePace?)null
                : PaceOf(snapshot, parent))];
        _works = [.. Enumerable.Range(0, count).Select(parent => Works(parent, settings))];
        _byOutcome = [new double[count], new double[count], new double[count]];
        for (var parent = 0; parent < count; parent++)
        {
            var outcomes = Outcomes(_works[parent], _oils[parent], settings);
            for (var outcome = 0; outcome < outcomes.Length; outcome++)
            {
                _byOutcome[outcome][parent] = outcomes[outcome];
            }
        }

        _notCarbonyl = Outcomes(settings.FalseShare, 0, settings);
    }

    /// <summary>The table's spot test with the kind's own reagent: the same mixing. Missing: null, it has none.</summary>
    public string? TestKey => _test?.Test.Key;

    /// <summary>Probability of an outcome for each parent. Bounds: above 0.</summary>
    /// <param name="outcome">What came.</param>
    public ParentValues Of(Precipitate outcome) => ParentValues.Each(_byOutcome[(int)outcome]);

    /// <summary>Mean probability of an outcome for some parents.</summary>
    /// <param name="outcome">What came.</param>
    /// <param name="parents">Their places in the snapshot. Shape: at least one.</param>
    internal double Mean(Precipitate outcome, int[] parents) => parents.Average(parent => _byOutcome[(int)outcome][parent]);

    /// <summary>Probability of an outcome for a compound that is no aldehyde or ketone.</summary>
    /// <param name="outcome">What came.</param>
    public double OfNotCarbonyl(Precipitate outcome) => _notCarbonyl[(int)outcome];

    /// <summary>Probability of an outcome for a relative of any parent.</summary>
    /// <param name="outcome">What came.</param>
    /// <param name="notCarbonylShare">Share of relatives that are no aldehyde or ketone.</param>
    internal double OfRelatives(Precipitate outcome, double notCarbonylShare) =>
        RelativesByReagent.Mixed(notCarbonylShare, _byOutcome[(int)outcome].Average(), OfNotCarbonyl(outcome));

    /// <summary>Share of oils among a parent's products.</summary>
    internal double OilsOf(int parent) => _oils[parent];

    /// <summary>Whether every parent can form the derivative.</summary>
    internal bool IsFormedByAll => !_behaviour.Contains(PrecipitateBehaviour.NotFormed);

    /// <summary>How often a parent reacts, to crystals or an oil.</summary>
    internal double WorksOf(int parent) => _works[parent];

    /// <summary>Whether a parent reacts readily.</summary>
    internal bool IsReady(int parent) => _works[parent] >= Readily;

    /// <summary>How a parent takes to the reagent.</summary>
    internal PrecipitateBehaviour BehaviourOf(int parent) => _behaviour[parent];

    /// <summary>How soon a parent gives crystals. Missing: null, it forms no such derivative or may close to a ring.</summary>
    internal PrecipitatePace? PaceOf(int parent) => _pace[parent];

    /// <summary>Source of a parent's rates. Missing: null, the model's settings.</summary>
    internal string? SourceOf(int parent) =>
        _test is null || _behaviour[parent] == PrecipitateBehaviour.NotFormed
            ? null
            : _test.OutcomeOf(parent).SourceKey;

    internal static PrecipitateRates Build(DerivativeKind kind, ListedTemperatures listed, TableSnapshot snapshot) =>
        new(kind, listed, snapshot, kind.TestKey is { } test ? snapshot.SpotTests.Row(test) : null);

    /// <summary>Probability that the reaction works: crystals or an oil of the derivative.</summary>
    private double Works(int parent, PrecipitateSettings settings)
    {
        if (_behaviour[parent] == PrecipitateBehaviour.NotFormed)
        {
            return settings.FalseShare;
        }

        if (_test is { } test)
        {
            return test.Foreseen(parent);
        }

        return _behaviour[parent] switch
        {
            PrecipitateBehaviour.Slow => settings.SlowShare,
            PrecipitateBehaviour.ClosesRing => settings.RingClosingShare,
            _ => settings.ReadyShare,
        };
    }

    private static double[] Outcomes(double works, double oils, PrecipitateSettings settings)
    {
        var oil = (works * oils) + ((1 - works) * settings.OilShare);
        var none = (1 - works) * (1 - settings.OilShare);
        return [1 - oil - none, oil, none];
    }

    private static double[] Oils(ListedTemperatures listed, PrecipitateSettings settings) =>
        [.. listed.Averages(
            value => settings.OilsAt(value.HighCelsius), estimate => settings.OilsAt(estimate.MeanCelsius), ifNone: 0)
            .Select((share, parent) => listed.CanHave(parent) ? share : 0)];

    private static PrecipitateBehaviour BehaviourOf(TableSnapshot snapshot, int parent, ClosedRing? ring)
    {
        var features = snapshot.Features[parent];
        return ring is not null && features.HasFlag(StructureFeature.OneThreeDicarbonyl) ? PrecipitateBehaviour.ClosesRing
            : (features & (StructureFeature.HinderedKetone | StructureFeature.Methanal)) != 0 || snapshot.LongChains[parent]
                ? PrecipitateBehaviour.Slow
            : PrecipitateBehaviour.Ready;
    }

    /// <summary>An aldehyde group is reached first, whatever else there is.</summary>
    private static PrecipitatePace PaceOf(TableSnapshot snapshot, int parent)
    {
        var features = snapshot.Features[parent];
        return snapshot.LongChains[parent]
            || ((snapshot.TertiaryKetones[parent] || (features & (StructureFeature.HinderedKetone | StructureFeature.ArylKetone)) != 0)
                && !features.HasFlag(StructureFeature.Aldehyde))
            ? PrecipitatePace.Slow
            : PrecipitatePace.Prompt;
    }

    /// <summary>CnH2nO of an aldehyde or ketone leaves room for the one C=O and no ring.</summary>
    internal static bool IsLongChain(Parent parent) =>
        MolecularFormula.TryParse(parent.Formula, out var formula, out _)
        && formula is { Counts.Count: 3 }
        && formula.CountOf("C") is >= LongChainCarbons and var carbons
        && formula.CountOf("H") == 2 * carbons
        && formula.CountOf("O") == 1;
}

/// <summary>How a parent takes to a reagent.</summary>
internal enum PrecipitateBehaviour
{
    /// <summary>Forms the derivative readily.</summary>
    Ready,

    /// <summary>Forms it slowly or crystallises badly: methanal, a hindered ketone or a long open chain.</summary>
    Slow,

    /// <summary>May close to a ring with the reagent, to a product of another composition.</summary>
    ClosesRing,

    /// <summary>Cannot form it.</summary>
    NotFormed,
}

/// <summary>How soon crystals come, as far as the structure tells.</summary>
internal enum PrecipitatePace
{
    /// <summary>Soon: an aldehyde, or a ketone that is neither hindered nor aromatic.</summary>
    Prompt,

    /// <summary>Late: a hindered or aromatic ketone, or a long open chain.</summary>
    Slow,
}

using Derivid.Core.Compounds;
using Derivid.Core.Observations;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>A reagent with which no crystals came.</summary>
/// <remarks>
/// Crystals that did come carry no weight of their own: a melting range is weighed given the crystals, so that rates which
/// are assumed bear only on answers that need them.
/// </remarks>
internal sealed class PrecipitateLikelihoods : ParentLikelihoods
{
    /// <summary>Share of oils from which they are said to be usual. Chosen.</summary>
    private const double OilsUsually = 0.1;

    private readonly TableSnapshot _snapshot;
    private readonly KindSnapshot _kind;
    private readonly Precipitate _came;

    private PrecipitateLikelihoods(
        KindSnapshot kind, Precipitate came, TableSnapshot snapshot, (ParentValues Own, ParentValues Relative) likelihood)
        : base(EvidenceKind.Precipitate, kind.Kind.Key, likelihood.Own, likelihood.Relative)
    {
        _snapshot = snapshot;
        _kind = kind;
        _came = came;
    }

    /// <summary>What came: an oil or nothing.</summary>
    public Precipitate Came => _came;

    /// <summary>Whether it hints at no aldehyde or ketone: nothing came, though every parent can form the derivative.</summary>
    public bool DoubtsCarbonyl => _came == Precipitate.None && _kind.Precipitates.IsFormedByAll;

    /// <summary>Weighs what came.</summary>
    /// <param name="kind">The kind whose reagent was used.</param>
    /// <param name="came">What came.</param>
    /// <param name="snapshot">The table.</param>
    /// <param name="relatives">What is believed of unlisted relatives so far; brought up to date.</param>
    public static PrecipitateLikelihoods Weigh(
        KindSnapshot kind, Precipitate came, TableSnapshot snapshot, RelativesByReagent relatives) =>
        new(kind, came, snapshot, (kind.Precipitates.Of(came), relatives.TakeIn(kind.Precipitates, came)));

    protected override string Describe(int parent)
    {
        var (reagent, name) = (_kind.Kind.ReagentName, _snapshot.Parents[parent].Name);
        return _came == Precipitate.Oil
            ? $"An oil came with {reagent}: {AsOil(parent, name)}."
            : $"Nothing came with {reagent}: {WithoutProduct(parent, name)}.";
    }

    protected override IReadOnlyList<string> SourcesOf(int parent) =>
        _kind.Precipitates.SourceOf(parent) is { } source ? [source] : [];

    private string WithoutProduct(int parent, string name) =>
        _kind.Precipitates.BehaviourOf(parent) switch
        {
            PrecipitateBehaviour.NotFormed => $"expected, since {name} forms no {_kind.Kind.Name}",
            PrecipitateBehaviour.ClosesRing =>
                $"not unusual, since {name} may close to {Ring(_kind.Kind.ClosesTo!.Value)} with it",
            PrecipitateBehaviour.Slow when !_kind.Precipitates.IsReady(parent) =>
                $"not unusual, since {name} is slow to give the {_kind.Kind.Name} or crystallises badly",
            _ when _kind.Precipitates.IsReady(parent) => $"unusual, since {name} gives the {_kind.Kind.Name} readily",
            _ => $"not unusual, since {name} does not always give the {_kind.Kind.Name}",
        };

    private static string Ring(ClosedRing ring) =>
        ring switch
        {
            ClosedRing.Pyrazole => "a pyrazole",
            ClosedRing.Isoxazole => "an isoxazole",
        };

    private string AsOil(int parent, string name) =>
        _kind.Precipitates.BehaviourOf(parent) == PrecipitateBehaviour.NotFormed
            ? $"{name} forms no {_kind.Kind.Name}, so it would be the unknown itself that separated"
            : _kind.Precipitates.OilsOf(parent) >= OilsUsually
                ? $"not unusual, since the {_kind.Kind.Name} of {name} melts low"
            : _kind.Precipitates.IsReady(parent) ? $"unusual, since the {_kind.Kind.Name} of {name} crystallises readily"
            : $"not unusual, since {name} does not always give crystals";
}

using Derivid.Core.Observations;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>Whether the unknown is a liquid or a solid, weighed against the listed melting points.</summary>
internal sealed class StateLikelihoods : ParentLikelihoods
{
    private readonly TableSnapshot _snapshot;
    private readonly PhysicalState _state;

    private StateLikelihoods(TableSnapshot snapshot, PhysicalState state, double[] likelihood, double[] relative)
        : base(EvidenceKind.State, null, ParentValues.Each(likelihood), ParentValues.Each(relative))
    {
        _snapshot = snapshot;
        _state = state;
    }

    /// <summary>Weighs the state.</summary>
    public static StateLikelihoods Weigh(PhysicalState state, TableSnapshot snapshot)
    {
        var (own, relative) = (new double[snapshot.Parents.Count], new double[snapshot.Parents.Count]);
        for (var parent = 0; parent < own.Length; parent++)
        {
            var (solid, relativeSolid) = (snapshot.Solids.Of(parent), snapshot.Solids.OfRelative(parent));
            own[parent] = state == PhysicalState.Solid ? solid : 1 - solid;
            relative[parent] = state == PhysicalState.Solid ? relativeSolid : 1 - relativeSolid;
        }

        return new StateLikelihoods(snapshot, state, own, relative);
    }

    protected override string Describe(int parent)
    {
        var name = _snapshot.Parents[parent].Name;
        var state = _state == PhysicalState.Solid ? "solid" : "liquid";
        return _snapshot.MeltingPoints.Nearest(parent, TableSnapshot.RoomCelsius) is { } nearest
            ? $"The unknown is a {state}; {name} melts at {nearest.Words}."
            : $"The unknown is a {state}; no melting point of {name} is listed, so it is weighed by an estimate.";
    }

    protected override IReadOnlyList<string> SourcesOf(int parent) => _snapshot.MeltingPoints.SourcesOf(parent);
}

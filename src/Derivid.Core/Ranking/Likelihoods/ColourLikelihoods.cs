using Derivid.Core.Colours;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>The colour called for a derivative.</summary>
internal sealed class ColourLikelihoods : ParentLikelihoods
{
    private readonly TableSnapshot _snapshot;
    private readonly ColourTable _colours;
    private readonly string _called;

    private ColourLikelihoods(KindSnapshot kind, ColourTable colours, Colour called, TableSnapshot snapshot)
        : base(EvidenceKind.DerivativeColour, kind.Kind.Key, colours.Probabilities(called.Key))
    {
        _snapshot = snapshot;
        _colours = colours;
        _called = called.Name;
    }

    /// <summary>Weighs a colour.</summary>
    /// <returns>Missing: null, the colour of the kind says nothing, or the one called has no place in the order.</returns>
    public static ColourLikelihoods? Weigh(KindSnapshot kind, string colourKey, TableSnapshot snapshot)
    {
        if (kind.Colours is not { } colours || !colours.Ranks(colourKey))
        {
            return null;
        }

        return new ColourLikelihoods(kind, colours, snapshot.Table.Colours.First(colour => colour.Key == colourKey), snapshot);
    }

    protected override string Describe(int parent)
    {
        var name = _snapshot.Parents[parent].Name;
        var origin = _colours.IsRecorded(parent) ? "the colour recorded for" : "the colour expected of the structure of";
        return $"Called {_called}, weighed against {origin} {name}.";
    }
}

using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>The melting range of a mixture with an authentic sample.</summary>
/// <remarks>
/// The mixture is seen to melt unchanged or changed. Unchanged, its clear point is that of what was melted beside it: of
/// the authentic sample, else of the unknown's own crystals, else as the table lists it; beside another reading the
/// thermometer's error is shared and drops out, and an impurity of the unknown's crystals counts half, being diluted.
/// Changed, it is that of <see cref="UnlikeMixture"/>. How often either is seen, of the same compound and of two, are the
/// figures that advice foresees the step by, so an unchanged mixture never counts more than the one to the other. Its width
/// carries no weight: one to one, two compounds that melt alike are near their eutectic and melt as sharply as one. A gross
/// error may stand anywhere in the working range.
/// Where the unknown's crystals were melted alone, that reading is their melting point whoever made them, so all but the
/// partner are alike; else each candidate's listed values or estimate stand in. "None of these", and what the table knows
/// no melting point of, are unlike compounds like the average one.
/// </remarks>
internal sealed class MixedMeltingLikelihoods : ParentLikelihoods
{
    private readonly TableSnapshot _snapshot;
    private readonly MixedMelting _mixed;
    private readonly double _partnerCelsius;

    private MixedMeltingLikelihoods(
        MixedMelting mixed, TableSnapshot snapshot, double partnerCelsius, bool isUnchanged, (double[] Own, double[] Relative) likelihood)
        : base(EvidenceKind.MixedMelting, mixed.Kind?.Kind.Key, likelihood.Own, likelihood.Relative)
    {
        _snapshot = snapshot;
        _mixed = mixed;
        _partnerCelsius = partnerCelsius;
        IsUnchanged = isUnchanged;
    }

    /// <summary>What was melted.</summary>
    public MixedMelting Mixed => _mixed;

    /// <summary>Whether it melted as the partner alone would, rather than lower or anywhere else.</summary>
    public bool IsUnchanged { get; }

    /// <summary>Weighs a mixture.</summary>
    /// <returns>Missing: null, nothing tells where the partner's sample melts.</returns>
    public static MixedMeltingLikelihoods? Weigh(MixedMelting mixed, TableSnapshot snapshot)
    {
        var partners = mixed.PartnerMelts();
        if (partners.Count == 0)
        {
            return null;
        }

        var (settings, unlike) = (snapshot.Settings.MixedMelting, new UnlikeMixture(snapshot.Settings.MixedMelting));
        var (clear, listed) = (mixed.Used.ClearPointCelsius, mixed.Listed);
        var even = 1 / (listed.Scatter.HighestCelsius - listed.Scatter.LowestCelsius);
        var unchanged = mixed.UnchangedDensity();
        double Seen(double unchangedShare, double changed) =>
            ((1 - listed.Scatter.GrossShare) * ((unchangedShare * unchanged) + ((1 - unchangedShare) * changed)))
            + (listed.Scatter.GrossShare * even);
        var beside = partners.Select(partner => (partner.Weight, Density: unlike.DensityOf(clear, partner.Celsius))).ToList();
        double Unlike(double celsius) => Seen(settings.UnchangedIfDifferent, beside.Sum(of => of.Weight * of.Density(celsius)));

        var own = mixed.OwnCelsius is { } read ? Alike(listed.ParentCount, Unlike(read))
            : listed.Averages(value => Unlike(value.HighCelsius), estimate => MixedMelting.MeltsOf(estimate).Average(Unlike), ifNone: even);
        var relative = new double[own.Length];
        Array.Fill(relative, own.Average());
        var changed = partners.Sum(partner => partner.Weight * unlike.DensityAt(clear, partner.Celsius, partner.Celsius));
        own[mixed.Partner] = Seen(settings.UnchangedIfSame, changed);
        return new MixedMeltingLikelihoods(
            mixed,
            snapshot,
            partners.Sum(partner => partner.Weight * partner.Celsius),
            unchanged > Math.Max(changed, even),
            (own, relative));
    }

    private static double[] Alike(int count, double likelihood)
    {
        var all = new double[count];
        Array.Fill(all, likelihood);
        return all;
    }

    protected override string Describe(int parent)
    {
        var partner = _snapshot.Parents[_mixed.Partner].Name;
        var seen = $"The mixture with authentic {_mixed.Called(partner)} cleared at {Figure.Degrees(_mixed.Used.ClearPointCelsius)} °C";
        if (parent == _mixed.Partner)
        {
            return IsUnchanged
                ? $"{seen}, unchanged beside {_mixed.Beside()}, as that of {partner} with itself would."
                : $"{seen}, {Lowered()} beside {_mixed.Beside()}; that of {partner} with itself would be unchanged.";
        }

        var name = _snapshot.Parents[parent].Name;
        return _mixed.MeltsAt(parent) is { } celsius
            ? $"{seen}; if the unknown is {name}, it would be expected {_snapshot.Settings.MixedMelting.Expect(celsius, _partnerCelsius)}."
            : $"{seen}; nothing tells where {name} would have let it, so it is weighed as an average compound.";
    }

    private string Lowered() => _mixed.Used.ClearPointCelsius > _mixed.BesideCelsius() ? "raised" : "lowered";

    protected override IReadOnlyList<string> SourcesOf(int parent) =>
        [.. SourcesOfMelts(_mixed.Partner, _mixed.Authentic is not null)
            .Concat(SourcesOfMelts(parent, parent == _mixed.Partner || _mixed.OwnCelsius is not null))
            .Distinct(StringComparer.Ordinal)];

    private IEnumerable<string> SourcesOfMelts(int parent, bool isRead) =>
        isRead ? [] : _mixed.Listed.Of(parent).Select(value => value.SourceKey);
}

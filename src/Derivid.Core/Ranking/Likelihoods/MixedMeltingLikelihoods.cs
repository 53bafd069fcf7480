using Derivid.Core.Ranking.Distributions;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>The melting range of a mixture with an authentic sample.</summary>
/// <remarks>
/// The mixture is seen to melt unchanged or changed. Unchanged, its clear point is that of what was melted beside it: of
/// the authentic sample, else of the unknown's own crystals, else as the table lists it; beside another reading the
/// thermometer's error is shared and drops out, and an impurity of the unknown's crystals, if there is cause to doubt them,
/// counts half, being diluted. Changed, it is that of <see cref="UnlikeMixture"/>. How often either is seen, of the same
/// compound and of two, are the figures that advice foresees the step by, so an unchanged mixture never counts more than the
/// one to the other. Its width counts one way only: wider than what was melted beside it, it was the less likely unchanged;
/// sharp it says nothing, for one to one two compounds that melt alike are near their eutectic and melt as sharply as one.
/// Nor is it unchanged far above the unknown's own crystals. That reading itself is weighed as that of its kind; here all is
/// given it, so nothing of it counts twice. A gross error may stand anywhere in the working range.
/// Where the unknown's crystals were melted alone, that reading is their melting point whoever made them, so all but the
/// partner are alike; else each candidate's listed values or estimate stand in. "None of these", and what the table knows
/// no melting point of, are unlike compounds like the average one; but where the prior leaves the partner out, the partner is
/// one of "none of these", in the place of its own relatives.
/// </remarks>
internal sealed class MixedMeltingLikelihoods : ParentLikelihoods
{
    /// <summary>A mixture so much wider than its samples is not unchanged. Units: °C. Source: customary 2 to 3 °C of class hand-outs.</summary>
    private const double WideSpanCelsius = 3;

    /// <summary>Evidence less than this either way tells too little to call a mixture unchanged or lowered: 3 to 2. Chosen.</summary>
    private static readonly double ToldLogRatio = Math.Log(1.5);

    // Gauss-Hermite rule of three points: Abramowitz & Stegun (1964), Table 25.10.
    private static readonly (double Deviations, double Weight)[] ReadingErrors = [(-Math.Sqrt(3), 1.0 / 6), (0, 4.0 / 6), (Math.Sqrt(3), 1.0 / 6)];

    private readonly TableSnapshot _snapshot;
    private readonly MixedMelting _mixed;
    private readonly double _partnerCelsius;

    private MixedMeltingLikelihoods(
        MixedMelting mixed, TableSnapshot snapshot, double partnerCelsius, (double[] Own, double[] Relative) likelihood)
        : base(EvidenceKind.MixedMelting, mixed.Kind?.Kind.Key, ParentValues.Each(likelihood.Own), ParentValues.Each(likelihood.Relative))
    {
        _snapshot = snapshot;
        _mixed = mixed;
        _partnerCelsius = partnerCelsius;
    }

    /// <summary>What was melted.</summary>
    public MixedMelting Mixed => _mixed;

    /// <summary>Whether it melted over much more than what was melted beside it.</summary>
    public bool IsWider => _mixed.WiderCelsius > WideSpanCelsius;

    /// <summary>Whether it melted as the partner alone would: no wider, and where that speaks for the partner.</summary>
    public bool IsUnchanged => !IsWider && LogRatio(_mixed.Partner) > ToldLogRatio;

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
        double OrGross(double density) => double.Lerp(density, even, listed.Scatter.GrossShare);
        var unchanged = OrGross(mixed.UnchangedDensity()) * mixed.ShareThatMuchWider(snapshot.Settings.Depression);
        double Seen(double unchangedShare, double changed) => (unchangedShare * unchanged) + ((1 - unchangedShare) * OrGross(changed));
        var beside = (from partner in partners
                      from error in ReadingErrors
                      select (
                          Weight: partner.Weight * error.Weight,
                          partner.Celsius,
                          Density: unlike.DensityOf(clear - (error.Deviations * mixed.ReadingCelsius), partner.Celsius))).ToList();
        double Unlike(double celsius) => Seen(settings.UnchangedIfDifferent, beside.Sum(of => of.Weight * of.Density(celsius)));

        var own = mixed.OwnCelsius is { } read ? Alike(listed.ParentCount, Unlike(read))
            : listed.Averages(value => Unlike(value.HighCelsius), estimate => MixedMelting.MeltsOf(estimate).Average(Unlike), ifNone: even);
        var relative = Alike(own.Length, own.Average());
        own[mixed.Partner] = Seen(settings.UnchangedIfSame, beside.Sum(of => of.Weight * of.Density(of.Celsius)));
        if (mixed.IsPartnerLeftOut)
        {
            relative[mixed.Partner] = own[mixed.Partner];
        }

        return new MixedMeltingLikelihoods(
            mixed,
            snapshot,
            partners.Sum(partner => partner.Weight * partner.Celsius),
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
                : $"{seen}, {Changed()} beside {_mixed.Beside()}; that of {partner} with itself would be unchanged.";
        }

        var name = _snapshot.Parents[parent].Name;
        return _mixed.MeltsAt(parent) is { } celsius
            ? $"{seen}; if the unknown is {name}, it would be expected {_snapshot.Settings.MixedMelting.Expect(celsius, _partnerCelsius)}."
            : $"{seen}; nothing tells where {name} would have let it, so it is weighed as an average compound.";
    }

    /// <summary>What a mixture is that is not unchanged, in words: lowered only where that speaks against the partner.</summary>
    private string Changed()
    {
        var isAgainst = LogRatio(_mixed.Partner) < -ToldLogRatio;
        return _mixed.Used.ClearPointCelsius > _mixed.BesideCelsius() + _mixed.ReadingCelsius ? IsWider ? "raised and wider" : "raised"
            : IsWider ? isAgainst ? "lowered and wider" : "wider"
            : isAgainst && _mixed.Used.ClearPointCelsius < _mixed.BesideCelsius() ? "lowered"
            : "neither clearly unchanged nor clearly lowered";
    }

    protected override IReadOnlyList<string> SourcesOf(int parent) =>
        [.. SourcesOfMelts(_mixed.Partner, _mixed.Authentic is not null)
            .Concat(SourcesOfMelts(parent, parent == _mixed.Partner || _mixed.OwnCelsius is not null))
            .Distinct(StringComparer.Ordinal)];

    private IEnumerable<string> SourcesOfMelts(int parent, bool isRead) =>
        isRead ? [] : _mixed.Listed.Of(parent).Select(value => value.SourceKey);
}

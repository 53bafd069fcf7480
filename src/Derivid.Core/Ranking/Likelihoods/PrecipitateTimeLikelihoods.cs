using Derivid.Core.Observations;

namespace Derivid.Core.Ranking.Likelihoods;

/// <summary>How soon the crystals of a derivative came.</summary>
/// <remarks>
/// Given that they came, which carries no weight of its own. One of which no class says how soon (it forms no such
/// derivative, or closes to a ring) has the mean of the others, so that the time speaks neither for nor against it.
/// </remarks>
internal sealed class PrecipitateTimeLikelihoods : ParentLikelihoods
{
    // Shares of a time from which it is said to be usual, and not unusual. Chosen.
    private const double Usual = 0.4;
    private const double NotUnusual = 0.2;

    private readonly TableSnapshot _snapshot;
    private readonly KindSnapshot _kind;
    private readonly PrecipitateTime _time;

    private PrecipitateTimeLikelihoods(KindSnapshot kind, PrecipitateTime time, TableSnapshot snapshot, double[] likelihood)
        : base(EvidenceKind.PrecipitateTime, kind.Kind.Key, ParentValues.Each(likelihood))
    {
        _snapshot = snapshot;
        _kind = kind;
        _time = time;
    }

    /// <summary>Weighs a time.</summary>
    /// <returns>Missing: null, nothing is known of how soon the kind comes with which compound.</returns>
    public static PrecipitateTimeLikelihoods? Weigh(KindSnapshot kind, PrecipitateTime time, TableSnapshot snapshot)
    {
        if (!snapshot.Settings.TimeTrustByKind.TryGetValue(kind.Kind.Key, out var trust))
        {
            return null;
        }

        var settings = snapshot.Settings.PrecipitateTime;
        var (prompt, slow) = (settings.Of(time, isSlow: false), settings.Of(time, isSlow: true));
        var byHand = (prompt + slow) / 2;
        double Told(double share) => (trust * share) + ((1 - trust) * byHand);
        var known = Enumerable.Range(0, snapshot.Parents.Count)
            .Select(parent => kind.Precipitates.PaceOf(parent) switch
            {
                PrecipitatePace.Prompt => Told(prompt),
                PrecipitatePace.Slow => Told(slow),
                null => (double?)null,
            })
            .ToList();
        var mean = known.Average() ?? byHand;
        return new PrecipitateTimeLikelihoods(kind, time, snapshot, [.. known.Select(share => share ?? mean)]);
    }

    protected override string Describe(int parent)
    {
        var name = _snapshot.Parents[parent].Name;
        var came = _time switch
        {
            PrecipitateTime.Seconds => "within seconds",
            PrecipitateTime.Minutes => "within minutes",
            PrecipitateTime.Hours => "only after hours",
        };
        var pace = _kind.Precipitates.PaceOf(parent);
        if (pace is null)
        {
            return $"Crystals of the {_kind.Kind.Name} came {came}; how soon {name} would give some is not known.";
        }

        var share = _snapshot.Settings.PrecipitateTime.Of(_time, pace == PrecipitatePace.Slow);
        var judged = share >= Usual ? "usual" : share >= NotUnusual ? "not unusual" : "unusual";
        var of = pace == PrecipitatePace.Slow ? "a slow one: a hindered or aromatic ketone or a long chain" : "neither a hindered nor an aromatic ketone nor a long chain";
        return $"Crystals of the {_kind.Kind.Name} came {came}: {judged} for {name}, {of}.";
    }
}

using System.Numerics.Tensors;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking.Forecasts;
using Derivid.Core.SpotTests;

namespace Derivid.Core.Ranking;

/// <summary>Works out what is worth doing next from where the probabilities stand.</summary>
internal sealed class NextSteps
{
    /// <summary>A melting point is worth taking of what is a solid with this probability. Chosen.</summary>
    private const double LeastSolid = 0.1;

    /// <summary>A derivative is worth making if leading candidates of this probability form it. Chosen.</summary>
    private const double LeastHeld = 0.1;

    /// <summary>Steps that would tell less than this are not worth a line. Units: nats. Chosen.</summary>
    private const double LeastInformation = 0.005;

    /// <summary>
    /// What boils below this is a liquid on the bench, so it has no melting point to take. Units: °C. Chosen, well below
    /// 155 °C, the lowest boiling point listed for a parent that melts above room temperature.
    /// </summary>
    private const double LiquidBelowCelsius = 110;

    // Times at a student's bench, apparatus at hand. Units: min. Common practice, no source.
    internal const double StateMinutes = 1;
    internal const double MeltingMinutes = 15;
    internal const double BoilingMinutes = 20;
    private const double MixedMinutes = 20;
    private const double RecrystallisationMinutes = 30;

    /// <summary>Crystals less doubted than this are not worth recrystallising. Chosen.</summary>
    private const double LeastDoubt = 0.3;

    private const string RecrystallisationCaution =
        "Hot solvents burn: heat them on a water bath or a plate in the hood, with no flame near, and never dry a 2,4-dinitrophenylhydrazine residue on heat.";

    internal const string BoilingCaution =
        "Many carbonyl compounds are flammable: heat without a flame, with boiling stones and good draught.";

    private readonly WeighedObservation _weighed;
    private readonly TableSnapshot _snapshot;
    private readonly double[] _relativeShare;
    private readonly double _noneSolid;
    private List<(SpotTestTable.TestRow Row, SpotTestForecast Forecast, double NonePositive)>? _foreseen;

    public NextSteps(WeighedObservation weighed, Posterior posterior)
    {
        _weighed = weighed;
        _snapshot = weighed.Snapshot;
        _relativeShare = posterior.RelativeShare;
        _noneSolid = _snapshot.Solids.OfRelatives(_relativeShare);
    }

    /// <summary>The steps not yet taken, most information a minute first.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="named">The candidates worth naming in a step's sentence, most probable first.</param>
    /// <param name="leading">The candidates of which one at least must form a derivative for it to be worth making.</param>
    public IReadOnlyList<PlannedStep> Rank(
        ForecastWeights weights, IReadOnlyList<int> named, IReadOnlyList<int> leading)
    {
        var steps = new List<PlannedStep>();
        AddDerivatives(steps, weights, named, leading);
        AddSpotTests(steps, weights, named);
        AddPhysicalData(steps, weights, named);
        AddRecrystallisations(steps, weights);
        return [.. steps
            .Where(step => step.ExpectedInformation >= LeastInformation)
            .OrderByDescending(Rate)
            .ThenBy(step => step.Key, StringComparer.Ordinal)];
    }

    /// <summary>A mixed melting point with an authentic sample of the leader's derivative.</summary>
    /// <returns>Missing: null, no shelf to take it from, no derivative melted or no leader worth it.</returns>
    public PlannedStep? MixedMeltingPoint(ReadOnlySpan<double> weights, int leader)
    {
        if (_weighed.Observation.Prior.Weights is null
            || _weighed.Readings.FirstOrDefault(r => r.Kind == EvidenceKind.DerivativeMeltingRange) is not { } reading
            || _weighed.Observation.MixedMeltings.Any(mixed =>
                mixed.KindKey == reading.Subject && mixed.PartnerKey == _snapshot.Parents[leader].Key))
        {
            return null;
        }

        var (settings, share) = (_snapshot.Settings.MixedMelting, weights[leader]);
        var unchanged = (share * settings.UnchangedIfSame) + ((1 - share) * settings.UnchangedIfDifferent);
        var information = Entropy.OfAnswer(unchanged)
            - (share * Entropy.OfAnswer(settings.UnchangedIfSame))
            - ((1 - share) * Entropy.OfAnswer(settings.UnchangedIfDifferent));
        var of = _snapshot.Kind(reading.Subject!);
        var (kind, name) = (of.Kind, _snapshot.Parents[leader].Name);
        var own = reading.AsUsed.ClearPointCelsius;
        var authentic = of.Listed.Nearest(leader, own)?.HighCelsius ?? of.Listed.EstimateOf(leader)?.MeanCelsius ?? own;
        return Planned(
            NextStepKind.MixedMeltingPoint,
            kind.Key,
            "mixed melting point",
            Math.Max(0, information),
            MixedMinutes,
            Hazard.Low,
            null,
            () => $"Mix the {kind.Name} with as much authentic {kind.Name} of {name} and melt it beside both: an unchanged range, to about {Figure.Text(own, decimals: 0)} °C, means the same compound, a lowered and wider one a different compound, with which it would be expected {settings.Expect(own, authentic)}.");
    }

    /// <summary>What the leading candidates that form a derivative hold together.</summary>
    private static double HeldBy(IReadOnlyList<int> leading, KindSnapshot kind, ForecastWeights weights)
    {
        var held = 0.0;
        foreach (var parent in leading.Where(kind.Listed.CanHave))
        {
            held += weights.Of(parent);
        }

        return held;
    }

    /// <summary>What a step is worth, by which steps are put in order.</summary>
    public double Rate(PlannedStep step) => step.Rate(_weighed.Observation.HazardMinutes);

    private static PlannedStep Planned(
        NextStepKind kind,
        string? key,
        string name,
        double information,
        double minutes,
        Hazard hazard,
        string? caution,
        Func<string> sentence) =>
        new(kind, key, information, minutes, hazard, caution, () => new NextStep(
            kind, key, name, information, minutes, hazard, sentence(), caution is null ? null : Caution.ByItself(caution)));

    private void AddDerivatives(
        List<PlannedStep> steps,
        ForecastWeights weights,
        IReadOnlyList<int> named,
        IReadOnlyList<int> leading)
    {
        foreach (var kind in _snapshot.Kinds)
        {
            if (HeldBy(leading, kind, weights) < LeastHeld || _weighed.Observation.Derivatives.Any(r => r.KindKey == kind.Kind.Key
                && (r.Range is not null || r.Precipitate is Precipitate.Oil or Precipitate.None)))
            {
                continue;
            }

            var information = kind.Forecast.ExpectedInformation(weights);
            steps.Add(Planned(
                NextStepKind.Derivative,
                kind.Kind.Key,
                kind.Kind.Name,
                information,
                kind.Kind.Minutes,
                kind.Kind.Hazard,
                kind.Kind.Cautions,
                () => $"Make the {kind.Kind.Name} and melt it: {Listed(kind.Listed, named)}."));
        }
    }

    private void AddRecrystallisations(List<PlannedStep> steps, ForecastWeights weights)
    {
        foreach (var (key, purity) in _weighed.Purities)
        {
            var kind = _snapshot.Kind(key);

            // Crystals believed pure would melt as before; of others a second range tells about as much as a first.
            var doubted = purity.ImpureShare + purity.LowShare;
            if (doubted < LeastDoubt)
            {
                continue;
            }

            steps.Add(Planned(
                NextStepKind.Recrystallisation,
                key,
                "recrystallisation",
                doubted * kind.Forecast.ExpectedInformation(weights),
                RecrystallisationMinutes,
                Hazard.Low,
                RecrystallisationCaution,
                () => $"Recrystallise the {kind.Kind.Name} ({kind.Kind.RecrystallisationSolvents}), dry it and melt it again: until two ranges agree, an impure or wet sample melts low and wide."));
        }
    }

    private void AddPhysicalData(
        List<PlannedStep> steps, ForecastWeights weights, IReadOnlyList<int> named)
    {
        var solid = _snapshot.Solids.Of(weights, _noneSolid);
        if (_weighed.Observation is { State: null, MeltingPoint: null } && !BoiledAsLiquid())
        {
            steps.Add(Planned(
                NextStepKind.State,
                null,
                "liquid or solid",
                _snapshot.Solids.ExpectedInformation(weights, _noneSolid),
                StateMinutes,
                Hazard.Low,
                null,
                () => $"See whether the unknown is a liquid or a solid at room temperature: {Expected(named, _snapshot.Solids.Of, "is a solid", "is a liquid")}."));
        }

        if (_weighed.Observation is { BoilingPoint: null, State: not PhysicalState.Solid } && !MeltedAsSolid())
        {
            steps.Add(Planned(
                NextStepKind.BoilingPoint,
                null,
                "boiling point",
                _snapshot.BoilingForecast.ExpectedInformation(weights),
                BoilingMinutes,
                Hazard.Low,
                BoilingCaution,
                () => $"Take the boiling range of the unknown: {Listed(_snapshot.BoilingPoints, named)}."));
        }

        if (_weighed.Observation is { MeltingPoint: null, State: not PhysicalState.Liquid } && !BoiledAsLiquid()
            && (solid >= LeastSolid || _weighed.Observation.State == PhysicalState.Solid))
        {
            steps.Add(Planned(
                NextStepKind.MeltingPoint,
                null,
                "melting point",
                _snapshot.MeltingForecast.ExpectedInformation(weights),
                MeltingMinutes,
                Hazard.Low,
                null,
                () => $"If the unknown is solid, take its own melting range: {Listed(_snapshot.MeltingPoints, named)}."));
        }
    }

    private bool MeltedAsSolid() => _weighed.Readings.Any(reading =>
        reading.Kind == EvidenceKind.MeltingPoint && reading.AsUsed.ClearPointCelsius > TableSnapshot.RoomCelsius);

    private bool BoiledAsLiquid() => _weighed.Readings.Any(reading =>
        reading.Kind == EvidenceKind.BoilingPoint && reading.AsUsed.ClearPointCelsius < LiquidBelowCelsius);

    /// <summary>Whether crystals of the derivative made with the same reagent have answered a test already.</summary>
    private bool IsAnsweredByDerivative(SpotTest test) => _weighed.Observation.Derivatives.Any(reading =>
        reading.Came == Precipitate.Crystals && _snapshot.Kind(reading.KindKey).Precipitates.TestKey == test.Key);

    private void AddSpotTests(
        List<PlannedStep> steps, ForecastWeights weights, IReadOnlyList<int> named)
    {
        foreach (var (row, forecast, nonePositive) in _foreseen ??= Foreseen())
        {
            var information = forecast.ExpectedInformation(weights, nonePositive);
            steps.Add(Planned(
                NextStepKind.SpotTest,
                row.Test.Key,
                row.Test.Name,
                information,
                row.Test.Minutes,
                row.Test.Hazard,
                row.Test.Cautions,
                () => $"Run the {row.Test.Name}: {Expected(named, parent => forecast.Positive[parent], "is expected to be positive", "is expected to be negative")}."));
        }
    }

    /// <summary>The spot tests not yet answered, each with what is foreseen of it and of an unlisted compound's positive.</summary>
    private List<(SpotTestTable.TestRow Row, SpotTestForecast Forecast, double NonePositive)> Foreseen() =>
        [.. _snapshot.SpotTests.Tests
            .Where(test => !_weighed.IsRepeated(test.Key)
                && !IsAnsweredByDerivative(test)
                && !_weighed.Observation.SpotTests.Any(reading =>
                    reading.TestKey == test.Key && reading.Outcome != SpotTestOutcome.NotDone))
            .Select(test =>
            {
                var row = _snapshot.SpotTests.Row(test.Key);
                var forecast = _weighed.SpotTestsOf(row.Question.Key) is { } read
                    ? new SpotTestForecast(row.Foreseen(read.StraightShares))
                    : row.Unread;
                return (row, forecast, NonePositive(row, forecast.Positive));
            })];

    private double NonePositive(SpotTestTable.TestRow row, ReadOnlySpan<double> positive)
    {
        if (!_snapshot.IsOfReagent(row.Test.Key))
        {
            return TensorPrimitives.Dot(_relativeShare, positive);
        }

        var relatives = _weighed.Relatives();
        var none = 0.0;
        for (var parent = 0; parent < positive.Length; parent++)
        {
            none += _relativeShare[parent] * relatives.Foresee(parent, positive[parent], row.Test.PositiveRateIfNo);
        }

        return none;
    }

    private string Listed(ListedTemperatures listed, IReadOnlyList<int> named)
    {
        var parts = named.Take(3).Select(parent =>
        {
            var name = _snapshot.Parents[parent].Name;
            var values = listed.Of(parent);
            return !listed.CanHave(parent) ? $"{name} does not form it"
                : values.Count == 0 ? $"{name} has none listed"
                : $"{name} {Figure.Range(values.Min(v => v.LowCelsius), values.Max(v => v.HighCelsius))}";
        });
        return string.Join(", ", parts);
    }

    // What cannot part the leading candidates can still speak against them all, and is said to.
    private string Expected(IReadOnlyList<int> named, Func<int, double> share, string ifYes, string ifNo)
    {
        var leading = named.Take(3)
            .Select(parent => (_snapshot.Parents[parent].Name, Outcome: SpotTestTable.ExpectedAt(share(parent)))).ToList();
        var said = string.Join(", ", leading.Select(each => each.Outcome switch
        {
            SpotTestOutcome.Positive => $"{each.Name} {ifYes}",
            SpotTestOutcome.Negative => $"{each.Name} {ifNo}",
            _ => $"{each.Name} may go either way",
        }));
        return leading.Count > 1 && leading[0].Outcome != SpotTestOutcome.Doubtful && leading.All(each => each.Outcome == leading[0].Outcome)
            ? said + "; the other outcome would speak against them all"
            : said;
    }
}

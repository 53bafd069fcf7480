using System.Text;
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

    /// <summary>Candidates named in a step's sentence. Chosen.</summary>
    internal const int NamesShown = 3;

    private const string RecrystallisationCaution =
        "Hot solvents burn: heat them on a water bath or a plate in the hood, with no flame near, and never dry a 2,4-dinitrophenylhydrazine residue on heat.";

    internal const string BoilingCaution =
        "Many carbonyl compounds are flammable: heat without a flame, with boiling stones and good draught.";

    private readonly WeighedObservation _weighed;
    private readonly TableSnapshot _snapshot;
    private readonly Observation _observation;
    private readonly Posterior _posterior;
    private readonly double _noneSolid;
    private readonly List<KindSnapshot> _unmade;
    private readonly List<ForeseenTest> _foreseen;
    private readonly StringBuilder _said = new();

    public NextSteps(WeighedObservation weighed, Posterior posterior)
    {
        _weighed = weighed;
        _snapshot = weighed.Snapshot;
        _observation = weighed.Observation;
        _posterior = posterior;
        _noneSolid = _snapshot.Solids.OfRelatives(posterior.RelativeShare);
        _unmade = Unmade();
        _foreseen = Foreseen();
    }

    /// <summary>The steps not yet taken, most information a minute first.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="leading">The candidates of which one at least must form a derivative for it to be worth making.</param>
    public List<PlannedStep> Rank(ForecastWeights weights, IReadOnlyList<int> leading)
    {
        var steps = new List<PlannedStep>();
        foreach (var step in Worthwhile(weights, leading, 1))
        {
            var place = steps.Count;
            while (place > 0 && IsBefore(step, steps[place - 1]))
            {
                place--;
            }

            steps.Insert(place, step);
        }

        return steps;
    }

    /// <summary>What parts a group best, whatever its time: of what the bench can make, if anything made parts it at all.</summary>
    /// <param name="weights">Probabilities of its members.</param>
    /// <param name="members">The group.</param>
    /// <returns>Missing: null, nothing in the table parts it.</returns>
    public PlannedStep? Parting(ForecastWeights weights, IReadOnlyList<int> members)
    {
        PlannedStep? best = null;
        foreach (var step in Worthwhile(weights, members, _posterior.Total(members)))
        {
            // Derivatives and tests come first, and one of them is as good as found.
            if (best is { IsDerivativeOrTest: true } && !step.IsDerivativeOrTest)
            {
                break;
            }

            if (best is not { } other
                || step.ExpectedInformation > other.ExpectedInformation
                || (step.ExpectedInformation == other.ExpectedInformation && IsBefore(step, other)))
            {
                best = step;
            }
        }

        return best;
    }

    /// <summary>A mixed melting point with an authentic sample of the leader's derivative.</summary>
    /// <returns>Missing: null, no shelf to take it from, no derivative melted or no leader worth it.</returns>
    public PlannedStep? MixedMeltingPoint(ReadOnlySpan<double> weights, int leader)
    {
        if (_observation.Prior.Weights is null
            || Melted() is not { } reading
            || _observation.MixedMeltings.Any(mixed =>
                mixed.KindKey == reading.Subject && mixed.PartnerKey == _snapshot.Parents[leader].Key))
        {
            return null;
        }

        var (settings, share) = (_snapshot.Settings.MixedMelting, weights[leader]);
        var unchanged = (share * settings.UnchangedIfSame) + ((1 - share) * settings.UnchangedIfDifferent);
        var information = Entropy.OfAnswer(unchanged)
            - (share * Entropy.OfAnswer(settings.UnchangedIfSame))
            - ((1 - share) * Entropy.OfAnswer(settings.UnchangedIfDifferent));
        return new(NextStepKind.MixedMeltingPoint, reading.Subject, Math.Max(0, information), MixedMinutes, Hazard.Low);
    }

    /// <summary>What a step is worth, by which steps are put in order.</summary>
    public double Rate(PlannedStep step) => step.Rate(_observation.HazardMinutes);

    /// <summary>Puts a step into words.</summary>
    /// <param name="step">The step.</param>
    /// <param name="named">The candidates worth naming, most probable first.</param>
    public NextStep Write(PlannedStep step, IReadOnlyList<int> named)
    {
        var caution = CautionOf(step);
        return new NextStep(
            step.Kind,
            step.Key,
            NameOf(step),
            step.ExpectedInformation,
            step.Minutes,
            step.Hazard,
            SentenceOf(step, named),
            caution is null ? null : Caution.ByItself(caution));
    }

    /// <summary>The caution that goes with a step, without a deferral. Missing: null, none of its own.</summary>
    public string? CautionOf(PlannedStep step) => step.Kind switch
    {
        NextStepKind.Derivative => _snapshot.Kind(step.Key!).Kind.Cautions,
        NextStepKind.SpotTest => _snapshot.SpotTests.Row(step.Key!).Test.Cautions,
        NextStepKind.BoilingPoint => BoilingCaution,
        NextStepKind.Recrystallisation => RecrystallisationCaution,
        NextStepKind.State or NextStepKind.MeltingPoint or NextStepKind.MixedMeltingPoint => null,
    };

    private string NameOf(PlannedStep step) => step.Kind switch
    {
        NextStepKind.Derivative => _snapshot.Kind(step.Key!).Kind.Name,
        NextStepKind.SpotTest => _snapshot.SpotTests.Row(step.Key!).Test.Name,
        NextStepKind.State => "liquid or solid",
        NextStepKind.BoilingPoint => "boiling point",
        NextStepKind.MeltingPoint => "melting point",
        NextStepKind.Recrystallisation => "recrystallisation",
        NextStepKind.MixedMeltingPoint => "mixed melting point",
    };

    private string SentenceOf(PlannedStep step, IReadOnlyList<int> named) => step.Kind switch
    {
        NextStepKind.Derivative =>
            $"Make the {NameOf(step)} and melt it: {Listed(_snapshot.Kind(step.Key!).Listed, named)}.",
        NextStepKind.SpotTest =>
            $"Run the {NameOf(step)}; expected: {Expected(named, PositiveOf(step.Key!), "positive", "negative")}.",
        NextStepKind.State =>
            $"See whether the unknown is a liquid or a solid at room temperature: {Expected(named, _snapshot.Solids.Own, "is a solid", "is a liquid")}.",
        NextStepKind.BoilingPoint => $"Take the boiling range of the unknown: {Listed(_snapshot.BoilingPoints, named)}.",
        NextStepKind.MeltingPoint =>
            $"If the unknown is solid, take its own melting range: {Listed(_snapshot.MeltingPoints, named)}.",
        NextStepKind.Recrystallisation => Recrystallise(_snapshot.Kind(step.Key!).Kind),
        NextStepKind.MixedMeltingPoint => Mix(_snapshot.Kind(step.Key!), named[0]),
    };

    private static string Recrystallise(DerivativeKind kind) =>
        $"Recrystallise the {kind.Name} ({kind.RecrystallisationSolvents}), dry it and melt it again: until two ranges agree, an impure or wet sample melts low and wide.";

    private string Mix(KindSnapshot of, int leader)
    {
        var (kind, name, own) = (of.Kind.Name, _snapshot.Parents[leader].Name, Melted()!.AsUsed.ClearPointCelsius);
        var authentic = of.Listed.Nearest(leader, own)?.HighCelsius ?? of.Listed.EstimateOf(leader)?.MeanCelsius ?? own;
        return $"Mix the {kind} with as much authentic {kind} of {name} and melt it beside both: an unchanged range, to about {Figure.Text(own, decimals: 0)} °C, means the same compound, a lowered and wider one a different compound, with which it would be expected {_snapshot.Settings.MixedMelting.Expect(own, authentic)}.";
    }

    /// <summary>The first derivative melted. Missing: null, none was.</summary>
    private CorrectedReading? Melted() => _weighed.Readings.FirstOrDefault(r => r.Kind == EvidenceKind.DerivativeMeltingRange);

    private bool IsBefore(PlannedStep step, PlannedStep other) =>
        Rate(step).CompareTo(Rate(other)) is var more && more == 0
            ? string.CompareOrdinal(step.Key, other.Key) < 0
            : more > 0;

    /// <summary>The steps worth a line, in no order but that derivatives and tests come first.</summary>
    /// <param name="weights">Probabilities of the parents.</param>
    /// <param name="leading">The candidates of which one at least must form a derivative for it to be worth making.</param>
    /// <param name="total">What all candidates hold that are weighed.</param>
    private IEnumerable<PlannedStep> Worthwhile(ForecastWeights weights, IReadOnlyList<int> leading, double total) =>
        Derivatives(weights, leading, total)
            .Concat(SpotTests(weights))
            .Concat(PhysicalData(weights))
            .Concat(Recrystallisations(weights))
            .Where(step => step.ExpectedInformation >= LeastInformation);

    private IEnumerable<PlannedStep> Derivatives(ForecastWeights weights, IReadOnlyList<int> leading, double total)
    {
        foreach (var of in _unmade)
        {
            if (HeldBy(leading, of) / total >= LeastHeld)
            {
                var kind = of.Kind;
                yield return new(
                    NextStepKind.Derivative, kind.Key, of.Forecast.ExpectedInformation(weights), kind.Minutes, kind.Hazard);
            }
        }
    }

    /// <summary>What the leading candidates that form a derivative hold together.</summary>
    private double HeldBy(IReadOnlyList<int> leading, KindSnapshot kind)
    {
        var held = 0.0;
        for (var i = 0; i < leading.Count; i++)
        {
            held += kind.Listed.CanHave(leading[i]) ? _posterior.Probability[leading[i]] : 0;
        }

        return held;
    }

    private IEnumerable<PlannedStep> SpotTests(ForecastWeights weights)
    {
        foreach (var (test, forecast, nonePositive) in _foreseen)
        {
            yield return new(
                NextStepKind.SpotTest, test.Key, forecast.ExpectedInformation(weights, nonePositive), test.Minutes, test.Hazard);
        }
    }

    private IEnumerable<PlannedStep> PhysicalData(ForecastWeights weights)
    {
        if (_observation is { State: null, MeltingPoint: null } && !BoiledAsLiquid())
        {
            yield return new(
                NextStepKind.State, null, _snapshot.Solids.ExpectedInformation(weights, _noneSolid), StateMinutes, Hazard.Low);
        }

        if (_observation is { BoilingPoint: null, State: not PhysicalState.Solid } && !MeltedAsSolid())
        {
            yield return new(
                NextStepKind.BoilingPoint, null, _snapshot.BoilingForecast.ExpectedInformation(weights), BoilingMinutes, Hazard.Low);
        }

        if (_observation is { MeltingPoint: null, State: not PhysicalState.Liquid } && !BoiledAsLiquid()
            && (_observation.State == PhysicalState.Solid || _snapshot.Solids.Of(weights, _noneSolid) >= LeastSolid))
        {
            yield return new(
                NextStepKind.MeltingPoint, null, _snapshot.MeltingForecast.ExpectedInformation(weights), MeltingMinutes, Hazard.Low);
        }
    }

    private IEnumerable<PlannedStep> Recrystallisations(ForecastWeights weights)
    {
        foreach (var (key, purity) in _weighed.Purities)
        {
            // Crystals believed pure would melt as before; of others a second range tells about as much as a first.
            var doubted = purity.ImpureShare + purity.LowShare;
            if (doubted >= LeastDoubt)
            {
                yield return new(
                    NextStepKind.Recrystallisation,
                    key,
                    doubted * _snapshot.Kind(key).Forecast.ExpectedInformation(weights),
                    RecrystallisationMinutes,
                    Hazard.Low);
            }
        }
    }

    private bool MeltedAsSolid() => _weighed.Readings.Any(reading =>
        reading.Kind == EvidenceKind.MeltingPoint && reading.AsUsed.ClearPointCelsius > TableSnapshot.RoomCelsius);

    private bool BoiledAsLiquid() => _weighed.Readings.Any(reading =>
        reading.Kind == EvidenceKind.BoilingPoint && reading.AsUsed.ClearPointCelsius < LiquidBelowCelsius);

    /// <summary>The kinds neither melted nor found to give no crystals.</summary>
    private List<KindSnapshot> Unmade()
    {
        HashSet<string> made = [.. _observation.Derivatives
            .Where(reading => reading.Range is not null || reading.Precipitate is Precipitate.Oil or Precipitate.None)
            .Select(reading => reading.KindKey)];
        return [.. _snapshot.Kinds.Where(kind => !made.Contains(kind.Kind.Key))];
    }

    /// <summary>The spot tests not yet answered.</summary>
    private List<ForeseenTest> Foreseen()
    {
        // Crystals of a derivative made with the same reagent have answered a test too.
        HashSet<string?> answered =
        [
            .. _observation.SpotTests.Where(reading => reading.Outcome != SpotTestOutcome.NotDone).Select(reading => reading.TestKey),
            .. _observation.Derivatives.Where(reading => reading.Came == Precipitate.Crystals)
                .Select(reading => _snapshot.Kind(reading.KindKey).Precipitates.TestKey),
        ];
        var foreseen = new List<ForeseenTest>();
        foreach (var test in _snapshot.SpotTests.Tests)
        {
            if (_weighed.IsRepeated(test.Key) || answered.Contains(test.Key))
            {
                continue;
            }

            var row = _snapshot.SpotTests.Row(test.Key);
            var forecast = _weighed.SpotTestsOf(row.Question.Key) is { } read
                ? new SpotTestForecast(row.Foreseen(read.StraightShares))
                : row.Unread;
            foreseen.Add(new ForeseenTest(test, forecast, NonePositive(row, forecast.Positive)));
        }

        return foreseen;
    }

    private ParentValues PositiveOf(string testKey) =>
        _foreseen.Find(foreseen => foreseen.Test.Key == testKey).Forecast.Positive;

    private double NonePositive(SpotTestTable.TestRow row, ParentValues positive) => _posterior.MeanOfRelatives(
        _snapshot.IsOfReagent(row.Test.Key) ? _weighed.Relatives().Foresee(positive, row.Test.PositiveRateIfNo) : positive);

    private string Listed(ListedTemperatures listed, IReadOnlyList<int> named)
    {
        _said.Clear();
        for (var i = 0; i < Math.Min(named.Count, NamesShown); i++)
        {
            _said.Append(i == 0 ? "" : ", ").Append(_snapshot.Parents[named[i]].Name).Append(' ')
                .Append(!listed.CanHave(named[i]) ? "does not form it" : listed.RangeOf(named[i]) ?? "has none listed");
        }

        return _said.ToString();
    }

    // What cannot part the leading candidates can still speak against them all, and is said to.
    private string Expected(IReadOnlyList<int> named, ParentValues share, string ifYes, string ifNo)
    {
        _said.Clear();
        var first = SpotTestTable.ExpectedAt(share[named[0]]);
        var shown = Math.Min(named.Count, NamesShown);
        var areAlike = shown > 1 && first != SpotTestOutcome.Doubtful;
        for (var i = 0; i < shown; i++)
        {
            var outcome = SpotTestTable.ExpectedAt(share[named[i]]);
            areAlike &= outcome == first;
            _said.Append(i == 0 ? "" : ", ").Append(_snapshot.Parents[named[i]].Name).Append(' ').Append(outcome switch
            {
                SpotTestOutcome.Positive => ifYes,
                SpotTestOutcome.Negative => ifNo,
                _ => "either way",
            });
        }

        return _said.Append(areAlike ? "; the other outcome would speak against them all" : "").ToString();
    }

    /// <summary>A spot test not yet answered.</summary>
    /// <param name="Test">The test.</param>
    /// <param name="Forecast">What is foreseen of it.</param>
    /// <param name="NonePositive">Probability of a positive from an unlisted compound.</param>
    private readonly record struct ForeseenTest(SpotTest Test, SpotTestForecast Forecast, double NonePositive);
}

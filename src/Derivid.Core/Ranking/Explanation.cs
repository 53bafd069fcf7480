using System.Globalization;
using Derivid.Core.Compounds;
using Derivid.Core.Observations;
using Derivid.Core.Ranking.Forecasts;
using Derivid.Core.Ranking.Likelihoods;
using Derivid.Core.Structures;

namespace Derivid.Core.Ranking;

/// <summary>Puts a posterior into words: ranking, groups, next steps, warnings and cautions.</summary>
internal sealed class Explanation
{
    /// <summary>Names written out in a sentence before "and more". Chosen.</summary>
    private const int NamesShown = 4;

    /// <summary>Leading candidates whose hazards are told, most probable first. Chosen, as many as are listed by default.</summary>
    private const int LeadersCautioned = IdentificationEngine.DefaultCandidates;

    private readonly WeighedObservation _weighed;
    private readonly TableSnapshot _snapshot;
    private readonly Posterior _posterior;
    private readonly NextSteps _steps;
    private readonly int _leader;

    public Explanation(WeighedObservation weighed, Posterior posterior)
    {
        _weighed = weighed;
        _snapshot = weighed.Snapshot;
        _posterior = posterior;
        _steps = new NextSteps(weighed, posterior);
        _leader = posterior.First(1)[0];
    }

    public Identification Write(int maximumCandidates)
    {
        var groups = Groups();
        var steps = Steps();
        var none = None();
        var named = _posterior.First(NextSteps.NamesShown).ToArray();
        return new Identification
        {
            TableVersion = _snapshot.Table.Version,
            ModelVersion = _snapshot.Settings.Version,
            Summary = Summary(none, groups),
            CandidatesConsidered = _posterior.Considered,
            Candidates = [.. _posterior.First(maximumCandidates).ToArray().Select((parent, i) => Candidate(parent, i + 1))],
            NoneOfThese = none,
            Groups = groups,
            NextSteps = [.. steps.Select(step => _steps.Write(step, named))],
            Readings = _weighed.Readings,
            Warnings = new Warnings(_weighed, _posterior.Leading).List(),
            Cautions = Cautions(steps),
        };
    }

    private RankedCandidate Candidate(int parent, int rank) =>
        new()
        {
            Rank = rank,
            Parent = _snapshot.Parents[parent],
            Prior = _posterior.Prior(parent),
            HowCommon = HowCommon(parent),
            Posterior = _posterior.Probability[parent],
            LogLikelihoodRatio = _posterior.LogRatio(parent),
            Evidence = [.. _weighed.Likelihoods.Select(likelihoods => likelihoods.Weigh(parent))],
            Windows = Windows(parent),
            Remarks = Remarks(parent),
        };

    private List<WindowCheck> Windows(int parent)
    {
        var windows = new List<WindowCheck>();
        foreach (var likelihoods in _weighed.Likelihoods)
        {
            if (likelihoods is TemperatureLikelihoods read && read.Check(parent, _weighed.Observation.WindowCelsius) is { } window)
            {
                windows.Add(window);
            }
        }

        return windows;
    }

    private string HowCommon(int parent)
    {
        var (prior, settings, compound) = (_weighed.Observation.Prior, _snapshot.Settings.Commonness, _snapshot.Parents[parent]);
        var tier = compound.Commonness switch
        {
            Commonness.Everyday => "an everyday compound",
            Commonness.Usual => "a usual compound",
            Commonness.Rare => "a rare compound",
            _ => "not judged",
        };
        var basis = compound.CommonnessBasis is { } counted ? $" ({counted})" : "";
        var weight = prior switch
        {
            { Weights: not null } => "not counted, since it was said what may have been handed out",
            { IsUniform: true } => "not counted, as asked",
            _ when compound.Commonness == Commonness.Rare => "counted least",
            _ => $"counted {Figure.Text(settings.Of(compound.Commonness) / settings.RareWeight, decimals: 2)} to 1 against a rare one",
        };
        return $"How common: {tier}{basis}; {weight}.";
    }

    private List<string> Remarks(int parent)
    {
        var remarks = new List<string>();
        var features = _snapshot.Features[parent];
        if (features.HasFlag(StructureFeature.OneThreeDicarbonyl))
        {
            remarks.Add(
                "A 1,3-dicarbonyl compound may close to a ring with a reagent (a pyrazole with a hydrazine, an isoxazole with hydroxylamine), so its product need not be the derivative listed.");
        }

        if (features.HasFlag(StructureFeature.HinderedKetone))
        {
            remarks.Add("A hindered ketone reacts slowly, and may give little or no precipitate.");
        }

        if (_snapshot.Parents[parent].Note is { } note)
        {
            remarks.Add(note);
        }

        return remarks;
    }

    private NoneOfThese None()
    {
        var leads = _posterior.NoneLeads;
        var sentence = !_posterior.HoldsEvidence ? "Nothing was observed that could tell a compound that is not listed."
            : _posterior.NonePrior == 0 ? "It was said that the compound is one of those considered."
            : _posterior.NoneLogRatio > _posterior.LogRatio(_leader)
                ? "A compound that is not listed would explain the observations better than the leading candidate."
            : leads ? "Each compound listed is less likely than that the unknown is not listed at all."
            : "A compound that is not listed explains the observations less well than the leading candidate.";
        return new NoneOfThese(
            _posterior.NonePrior, _posterior.NoneProbability, _posterior.NoneLogRatio, sentence + WithoutCrystals(),
            Leads: leads);
    }

    /// <summary>What every reagent failing may mean. Missing: empty, crystals came or no reagent was tried.</summary>
    private string WithoutCrystals()
    {
        var isDoubtful = _weighed.Likelihoods.Any(likelihoods =>
            likelihoods is PrecipitateLikelihoods { DoubtsCarbonyl: true } or SpotTestLikelihoods { DoubtsCarbonyl: true });
        var came = _weighed.Observation.Derivatives.Any(reading => reading.Came is Precipitate.Crystals or Precipitate.Oil);
        return isDoubtful && !came ? " Nothing came with the reagents tried, so it may be no aldehyde or ketone at all: acids, esters and alcohols give none either." : "";
    }

    private List<CandidateGroup> Groups() =>
        [.. _posterior.Inseparable.Select(Group)];

    private CandidateGroup Group(IReadOnlyList<int> members)
    {
        // A boiling point often tells more, and stands among the next steps; a group names what the bench can make.
        var best = _steps.Parting(new ForecastWeights(members, _posterior.Probability), members) is { } step
            ? _steps.Write(step, members)
            : null;
        var separated = best is null
            ? "Nothing in the table would separate them."
            : $"To separate them: {char.ToLowerInvariant(best.Sentence[0])}{best.Sentence.AsSpan(1)}";
        return new CandidateGroup(
            [.. members.Select(parent => _snapshot.Parents[parent].Key)],
            _posterior.Total(members),
            best,
            $"{NamesOf(members)} cannot be told apart on this evidence. {separated}");
    }

    private string NamesOf(IReadOnlyList<int> parents)
    {
        var shown = parents.Take(NamesShown).Select(parent => _snapshot.Parents[parent].Name).ToList();
        return (parents.Count - shown.Count) switch
        {
            0 => $"{string.Join(", ", shown.SkipLast(1))} and {shown[^1]}",
            1 => $"{string.Join(", ", shown)} and one more",
            var rest => $"{string.Join(", ", shown)} and {rest} more",
        };
    }

    private List<PlannedStep> Steps()
    {
        var steps = _steps.Rank(new ForecastWeights(_posterior.Probability, _posterior.NoneProbability), _posterior.Leading);
        if (_steps.MixedMeltingPoint(_posterior.Probability, _leader) is { } mixed)
        {
            var isSlower = steps.FindIndex(step => _steps.Rate(step) < _steps.Rate(mixed));
            steps.Insert(isSlower < 0 ? steps.Count : isSlower, mixed);
        }

        return steps;
    }

    private string Summary(NoneOfThese noneOfThese, IReadOnlyList<CandidateGroup> groups)
    {
        if (!_posterior.HoldsEvidence)
        {
            return "No evidence was given, so every compound considered is as probable as before.";
        }

        var best = _leader;
        var (name, probability) = (_snapshot.Parents[best].Name, _posterior.Probability[best]);
        var none = _posterior.NoneProbability;
        if (noneOfThese.Leads)
        {
            var verdict = none > 0.5
                ? "It is most probably none of the compounds considered"
                : "No compound considered stands out: none of these has the largest share";
            return string.Create(
                CultureInfo.InvariantCulture,
                $"{verdict} (probability {none:0.00}); the nearest is {name} ({probability:0.00}).");
        }

        if (none > probability && groups.MaxBy(group => group.Posterior) is { } likeliest)
        {
            return string.Create(
                CultureInfo.InvariantCulture,
                $"No single compound stands out: {likeliest.ParentKeys.Count} that the evidence cannot tell apart have {likeliest.Posterior:0.00} together, none of these has {none:0.00}; the nearest is {name} ({probability:0.00}).");
        }

        var lead = string.Create(
            CultureInfo.InvariantCulture,
            $"{name} leads with probability {probability:0.00}; none of these has {none:0.00}.");
        return LedBy(best, groups) is { } group ? $"{lead} {group.Sentence}" : lead;
    }

    private CandidateGroup? LedBy(int parent, IReadOnlyList<CandidateGroup> groups) =>
        groups.FirstOrDefault(group => group.ParentKeys[0] == _snapshot.Parents[parent].Key);

    /// <summary>Hazards of what the unknown may be. Shape: empty before any evidence, when everything may be it.</summary>
    private IEnumerable<string> OfLeaders() => _posterior.HoldsEvidence
        ? _posterior.Leading.Take(LeadersCautioned)
            .Select(parent => _snapshot.Parents[parent])
            .Where(parent => parent.Hazards is not null)
            .Select(parent => $"If it is {parent.Name}: {char.ToLowerInvariant(parent.Hazards![0])}{parent.Hazards.AsSpan(1)}.")
        : [];

    private List<string> Cautions(List<PlannedStep> steps)
    {
        var made = _weighed.Observation.Derivatives.Select(reading => _snapshot.Kind(reading.KindKey).Kind.Cautions);
        var run = _weighed.Observation.SpotTests.Select(reading => _snapshot.SpotTests.Row(reading.TestKey).Test.Cautions);
        var next = steps.Take(NextStep.Cautioned).Select(_steps.CautionOf).OfType<string>();
        return [.. made.Order(StringComparer.Ordinal)
            .Concat(run.Order(StringComparer.Ordinal))
            .Concat(next)
            .Concat(OfLeaders())
            .Append(Caution.DeferralOfList)
            .Distinct(StringComparer.Ordinal)];
    }
}

using System.Numerics.Tensors;
using Derivid.Core.Observations;
using Derivid.Core.Ranking.Likelihoods;

namespace Derivid.Core.Ranking;

/// <summary>Probabilities after all evidence, for every parent of a snapshot and for "none of these".</summary>
internal sealed class Posterior : IDisposable
{
    /// <summary>Share of what all candidates hold that the leading ones hold together. Chosen.</summary>
    private const double LeadingShare = 0.75;

    /// <summary>Decimals of a sort key that are more than rounding, which differs between processors.</summary>
    private const int KeyDecimals = 10;

    /// <summary>Of candidates whose sort keys are one but for rounding, probabilities differ by no more than this share.</summary>
    private const double KeyShare = 1e-9;

    private readonly IReadOnlyList<ParentLikelihoods> _all;
    private readonly TableSnapshot _snapshot;
    private readonly ParentValues _weights;
    private readonly double _priorShare;
    private readonly double _reference;
    private readonly double _relatives;
    private readonly Lazy<int[]> _leading;
    private readonly Lazy<CandidateGroups> _groups;
    private readonly Lazy<double[]> _relativesByClass;
    private readonly Lazy<SharesBySize> _bySize;
    private int[] _ranked = [];

    private Posterior(IReadOnlyList<ParentLikelihoods> all, PriorChoice prior, TableSnapshot snapshot)
    {
        _all = all;
        _snapshot = snapshot;
        _leading = new Lazy<int[]>(Leaders, LazyThreadSafetyMode.PublicationOnly);
        _groups = new Lazy<CandidateGroups>(
            () => CandidateGroups.Of(this, snapshot.Settings.GroupLogRatio), LazyThreadSafetyMode.PublicationOnly);
        _relativesByClass = new Lazy<double[]>(() => snapshot.Classes.Sums(RelativeShare), LazyThreadSafetyMode.PublicationOnly);
        _bySize = new Lazy<SharesBySize>(() => new SharesBySize(Probability), LazyThreadSafetyMode.PublicationOnly);
        Probability = snapshot.Arrays.Take();
        RelativeShare = snapshot.Arrays.Take();
        NonePrior = prior.NoneOfThese ?? snapshot.Settings.OpenSet.Prior;
        _weights = Weights(prior, snapshot);
        _priorShare = (1 - NonePrior) / (_weights.Mean() * Probability.Length);
        Considered = prior.Weights?.Values.Count(weight => weight > 0) ?? Probability.Length;
        _reference = all.Sum(likelihoods => likelihoods.LogReference);
        _relatives = SetRelatives(snapshot.Settings.OpenSet.MixedShare);
        SetProbabilities();
    }

    /// <summary>Whether there was anything to weigh.</summary>
    public bool HoldsEvidence => _all.Count > 0;

    /// <summary>How many parents are considered: those with any prior probability.</summary>
    public int Considered { get; }

    /// <summary>
    /// The fewest of them, most probable first, that hold three quarters of what all candidates hold together; "none of
    /// these" is no candidate and takes no part. Shape: indices, at least one.
    /// </summary>
    public IReadOnlyList<int> Leading => _leading.Value;

    /// <summary>Which of them cannot be told apart.</summary>
    public CandidateGroups Groups => _groups.Value;

    /// <summary>Posterior probability, by parent.</summary>
    public double[] Probability { get; }

    /// <summary>Given that it is none of these, the share of relatives of each parent; sums to 1.</summary>
    public double[] RelativeShare { get; }

    /// <summary>Prior probability of "none of these".</summary>
    public double NonePrior { get; }

    /// <summary>Log likelihood ratio of "none of these".</summary>
    public double NoneLogRatio { get; private set; }

    /// <summary>Posterior probability of "none of these".</summary>
    public double NoneProbability { get; private set; }

    /// <summary>The groups of two and more. Shape: indices in order of rank.</summary>
    public IEnumerable<IReadOnlyList<int>> Inseparable => Groups.All.Where(group => group.Count > 1);

    /// <summary>Whether "none of these" is likelier than every candidate and every group that the evidence cannot separate.</summary>
    public bool NoneLeads => HoldsEvidence && NoneProbability > Inseparable.Select(Total).Append(Probability[First(1)[0]]).Max();

    /// <summary>Weighs the evidence.</summary>
    public static Posterior Of(IReadOnlyList<ParentLikelihoods> all, PriorChoice prior, TableSnapshot snapshot) => new(all, prior, snapshot);

    /// <summary>What some parents have together.</summary>
    public double Total(IReadOnlyList<int> parents) => parents.Sum(parent => Probability[parent]);

    /// <summary>Prior probability of a parent; 0 for one not considered.</summary>
    public double Prior(int parent) => _weights[parent] * _priorShare;

    /// <summary>Sum of a parent's log likelihood ratios.</summary>
    public double LogRatio(int parent) => ParentLikelihoods.Settled(LogLikelihood(parent) - _reference);

    /// <summary>Mean over unlisted compounds of what their relatives among the parents would show.</summary>
    public double MeanOfRelatives(ParentValues values) =>
        TensorPrimitives.Dot(values.Values, values.Classes is null ? RelativeShare : _relativesByClass.Value);

    /// <summary>The most probable of the parents considered. Shape: indices, most probable first; ties by key.</summary>
    /// <param name="count">How many. Bounds: 1 up; there may be fewer.</param>
    /// <remarks>
    /// They are put in order by the logarithm of weight times likelihood, before anything is normalised, so that the rounding
    /// of a normalisation never reorders two candidates. Only those as probable as the last of the first, or less so by rounding, are looked at:
    /// no other can be among the first by that order either.
    /// </remarks>
    public ReadOnlySpan<int> First(int count)
    {
        if (_ranked.Length < Math.Min(count, Considered))
        {
            _ranked = Ranked(count < Considered ? _bySize.Value.LeastOf(count) : 0);
        }

        return _ranked.AsSpan(0, Math.Min(count, _ranked.Length));
    }

    /// <inheritdoc />
    /// <remarks>The arrays of numbers by parent are lent to others: no member is to be asked any more.</remarks>
    public void Dispose()
    {
        _snapshot.Arrays.Give(Probability);
        _snapshot.Arrays.Give(RelativeShare);
    }

    /// <summary>
    /// Parents are in key order, so that ties come out by key where their places do; and two that differ by rounding only are tied.
    /// </summary>
    /// <param name="least">The least probability that is looked at.</param>
    private int[] Ranked(double least)
    {
        var (keys, parents) = (new List<double>(), new List<int>());
        for (var parent = 0; parent < Probability.Length; parent++)
        {
            if (Probability[parent] >= least * (1 - KeyShare) && _weights[parent] > 0)
            {
                keys.Add(-Math.Round(Math.Log(_weights[parent]) + LogLikelihood(parent), KeyDecimals));
                parents.Add(parent);
            }
        }

        var (inOrder, ranked) = (keys.ToArray(), parents.ToArray());
        Array.Sort(inOrder, ranked);
        for (var (start, end) = (0, 1); start < ranked.Length; start = end++)
        {
            while (end < ranked.Length && inOrder[end] == inOrder[start])
            {
                end++;
            }

            Array.Sort(ranked, start, end - start);
        }

        return ranked;
    }

    private int[] Leaders()
    {
        var enough = LeadingShare * TensorPrimitives.Sum<double>(Probability);
        var held = 0.0;
        return [.. Ranked(_bySize.Value.LeastHolding(enough * (1 + KeyShare))).TakeWhile(parent =>
        {
            var isNeeded = held < enough;
            held += Probability[parent];
            return isNeeded;
        })];
    }

    private double LogLikelihood(int parent)
    {
        var sum = 0.0;
        foreach (var likelihoods in _all)
        {
            sum += likelihoods.LogLikelihood(parent);
        }

        return sum;
    }

    private static ParentValues Weights(PriorChoice prior, TableSnapshot snapshot)
    {
        if (prior.Weights is not { } weights)
        {
            return prior.IsUniform ? ParentValues.OfClasses(snapshot.Classes, (_, _) => 1) : snapshot.Commonness;
        }

        var each = new double[snapshot.Parents.Count];
        foreach (var (key, weight) in weights)
        {
            if (!snapshot.TryFindParent(key, out var parent))
            {
                throw new ArgumentException($"The table has no parent '{key}'.", nameof(prior));
            }

            each[parent] = weight;
        }

        return ParentValues.Each(each);
    }

    /// <summary>"None of these" is the mean over relatives of every parent of the table, considered or not.</summary>
    /// <returns>Its likelihood ratio.</returns>
    private double SetRelatives(double mixedShare)
    {
        ParentValues.Multiply(_all.Select(likelihoods => likelihoods.UnlistedLikelihood), Math.Exp(-_reference), _snapshot.Classes, RelativeShare);
        var total = TensorPrimitives.Sum<double>(RelativeShare);
        TensorPrimitives.Divide(RelativeShare, total, RelativeShare);
        var ratio = total / RelativeShare.Length;

        // Or temperatures that are not of one compound; a single one can't disagree with itself.
        if (_all.Count(likelihoods => likelihoods is TemperatureLikelihoods) > 1)
        {
            ratio = double.Lerp(ratio, RatioOfMixed(), mixedShare);
        }

        NoneLogRatio = ParentLikelihoods.Settled(Math.Log(ratio));
        return ratio;
    }

    /// <summary>Likelihood ratio of an unlisted compound whose temperatures are not its own, each as likely as at random.</summary>
    private double RatioOfMixed()
    {
        var own = _all.Where(likelihoods => likelihoods is not TemperatureLikelihoods).ToList();
        var product = _snapshot.Arrays.Take();
        ParentValues.Multiply(
            own.Select(likelihoods => likelihoods.UnlistedLikelihood),
            Math.Exp(-own.Sum(likelihoods => likelihoods.LogReference)),
            _snapshot.Classes,
            product);
        var mean = TensorPrimitives.Sum<double>(product) / product.Length;
        _snapshot.Arrays.Give(product);
        return mean;
    }

    private void SetProbabilities()
    {
        ParentValues.Multiply(
            _all.Select(likelihoods => likelihoods.Likelihood).Prepend(_weights), _priorShare * Math.Exp(-_reference), _snapshot.Classes, Probability);
        var none = NonePrior * _relatives;
        var sum = none + TensorPrimitives.Sum<double>(Probability);
        TensorPrimitives.Divide(Probability, sum, Probability);
        NoneProbability = none / sum;
    }
}

/// <summary>Probabilities over a whole snapshot, without explanations.</summary>
public sealed class PosteriorView
{
    private readonly Posterior _posterior;
    private readonly Lazy<double[]> _logRatios;
    private readonly Lazy<int[]> _order;

    internal PosteriorView(Posterior posterior)
    {
        _posterior = posterior;
        _logRatios = new(() => [.. Enumerable.Range(0, posterior.Probability.Length).Select(posterior.LogRatio)]);
        _order = new(() => posterior.First(posterior.Considered).ToArray());
    }

    /// <summary>Shape: one a parent, in snapshot order.</summary>
    public IReadOnlyList<double> Probability => _posterior.Probability;

    /// <summary>Shape: one a parent, in snapshot order. Natural logarithm.</summary>
    public IReadOnlyList<double> LogLikelihoodRatio => _logRatios.Value;

    /// <summary>Probability of "none of these"; all sum to 1.</summary>
    public double NoneOfThese => _posterior.NoneProbability;

    /// <summary>Its log likelihood ratio on the same scale.</summary>
    public double NoneLogLikelihoodRatio => _posterior.NoneLogRatio;

    /// <summary>Whether there was anything to weigh.</summary>
    public bool HoldsEvidence => _posterior.HoldsEvidence;

    /// <summary>The parents considered, most probable first. Shape: indices in the snapshot; ties by key.</summary>
    public IReadOnlyList<int> Order => _order.Value;

    /// <summary>Which of them cannot be told apart.</summary>
    public CandidateGroups Groups => _posterior.Groups;
}

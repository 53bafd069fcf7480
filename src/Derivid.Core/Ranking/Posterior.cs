using System.Buffers;
using System.Numerics.Tensors;
using Derivid.Core.Observations;
using Derivid.Core.Ranking.Likelihoods;

namespace Derivid.Core.Ranking;

/// <summary>Probabilities after all evidence, for every parent of a snapshot and for "none of these".</summary>
internal sealed class Posterior
{
    /// <summary>Share of what all candidates hold that the leading ones hold together. Chosen.</summary>
    private const double LeadingShare = 0.75;

    /// <summary>Decimals of a sort key that are more than rounding, which differs between processors.</summary>
    private const int KeyDecimals = 10;

    private readonly Lazy<IReadOnlyList<int>> _order;
    private readonly Lazy<IReadOnlyList<int>> _leading;
    private readonly Lazy<CandidateGroups> _groups;

    private Posterior(int parents, bool holdsEvidence, double groupLogRatio)
    {
        HoldsEvidence = holdsEvidence;
        _order = new Lazy<IReadOnlyList<int>>(Ranked, LazyThreadSafetyMode.PublicationOnly);
        _leading = new Lazy<IReadOnlyList<int>>(Leaders, LazyThreadSafetyMode.PublicationOnly);
        _groups = new Lazy<CandidateGroups>(() => CandidateGroups.Of(this, groupLogRatio), LazyThreadSafetyMode.PublicationOnly);
        Prior = new double[parents];
        SortKey = new double[parents];
        LogRatio = new double[parents];
        Probability = new double[parents];
        RelativeShare = new double[parents];
    }

    /// <summary>Whether there was anything to weigh.</summary>
    public bool HoldsEvidence { get; }

    /// <summary>The parents considered, most probable first. Shape: indices; ties by key.</summary>
    public IReadOnlyList<int> Order => _order.Value;

    /// <summary>
    /// The fewest of them, most probable first, that hold three quarters of what all candidates hold together; "none of
    /// these" is no candidate and takes no part. Shape: indices, at least one.
    /// </summary>
    public IReadOnlyList<int> Leading => _leading.Value;

    /// <summary>Which of them cannot be told apart.</summary>
    public CandidateGroups Groups => _groups.Value;

    /// <summary>Prior probability, by parent; 0 for one not considered.</summary>
    public double[] Prior { get; }

    /// <summary>
    /// Logarithm of weight times likelihood, by parent, before anything is normalised: the ranking goes by it, so that
    /// the rounding of a normalisation never reorders two candidates.
    /// </summary>
    public double[] SortKey { get; }

    /// <summary>Sum of the log likelihood ratios, by parent.</summary>
    public double[] LogRatio { get; }

    /// <summary>Posterior probability, by parent.</summary>
    public double[] Probability { get; }

    /// <summary>Given that it is none of these, the share of relatives of each parent; sums to 1.</summary>
    public double[] RelativeShare { get; }

    /// <summary>Prior probability of "none of these".</summary>
    public double NonePrior { get; private set; }

    /// <summary>Log likelihood ratio of "none of these".</summary>
    public double NoneLogRatio { get; private set; }

    /// <summary>Posterior probability of "none of these".</summary>
    public double NoneProbability { get; private set; }

    /// <summary>The groups of two and more. Shape: indices in order of rank.</summary>
    public IEnumerable<IReadOnlyList<int>> Inseparable => Groups.All.Where(group => group.Count > 1);

    /// <summary>Whether "none of these" is likelier than every candidate and every group that the evidence cannot separate.</summary>
    public bool NoneLeads => HoldsEvidence && NoneProbability > Inseparable.Select(Total).Append(Probability[Order[0]]).Max();

    /// <summary>What some parents have together.</summary>
    public double Total(IReadOnlyList<int> parents) => parents.Sum(parent => Probability[parent]);

    /// <summary>Weighs the evidence.</summary>
    public static Posterior Of(
        IReadOnlyList<ParentLikelihoods> all, PriorChoice prior, TableSnapshot snapshot)
    {
        var posterior = new Posterior(snapshot.Parents.Count, all.Count > 0, snapshot.Settings.GroupLogRatio);
        posterior.SetPrior(prior, snapshot);
        posterior.SetRatios(all, snapshot.Settings.OpenSet.MixedShare);
        posterior.SetProbabilities();
        return posterior;
    }

    /// <summary>
    /// Parents are in key order, so that ties come out by key where their places do; and two that differ by rounding only are tied.
    /// </summary>
    private int[] Ranked()
    {
        var (keys, parents, count) = (new double[SortKey.Length], new int[SortKey.Length], 0);
        for (var parent = 0; parent < parents.Length; parent++)
        {
            if (Prior[parent] > 0)
            {
                (keys[count], parents[count++]) = (-Math.Round(SortKey[parent], KeyDecimals), parent);
            }
        }

        Array.Sort(keys, parents, 0, count);
        for (var (start, end) = (0, 1); start < count; start = end++)
        {
            while (end < count && keys[end] == keys[start])
            {
                end++;
            }

            Array.Sort(parents, start, end - start);
        }

        return parents[..count];
    }

    private IReadOnlyList<int> Leaders()
    {
        var enough = LeadingShare * Probability.Sum();
        var held = 0.0;
        return [.. Order.TakeWhile(parent =>
        {
            var isNeeded = held < enough;
            held += Probability[parent];
            return isNeeded;
        })];
    }

    private void SetPrior(PriorChoice prior, TableSnapshot snapshot)
    {
        NonePrior = prior.NoneOfThese ?? snapshot.Settings.OpenSet.Prior;
        if (prior.Weights is { } weights)
        {
            foreach (var (key, weight) in weights)
            {
                if (!snapshot.TryFindParent(key, out var parent))
                {
                    throw new ArgumentException($"The table has no parent '{key}'.", nameof(prior));
                }

                Prior[parent] = weight;
            }
        }
        else
        {
            for (var parent = 0; parent < Prior.Length; parent++)
            {
                Prior[parent] = prior.IsUniform ? 1 : snapshot.Settings.Commonness.Of(snapshot.Parents[parent].Commonness);
            }
        }

        TensorPrimitives.Log(Prior, SortKey);
        TensorPrimitives.Multiply(Prior, (1 - NonePrior) / Prior.Sum(), Prior);
    }

    private void SetRatios(IReadOnlyList<ParentLikelihoods> all, double mixedShare)
    {
        var (reference, temperatures) = (0.0, 0);
        foreach (var likelihoods in all)
        {
            reference += likelihoods.LogReference;
            temperatures += likelihoods is TemperatureLikelihoods ? 1 : 0;
            TensorPrimitives.Add(LogRatio, likelihoods.LogLikelihood, LogRatio);
            TensorPrimitives.Add(RelativeShare, likelihoods.UnlistedLogLikelihood, RelativeShare);
        }

        for (var parent = 0; parent < LogRatio.Length; parent++)
        {
            SortKey[parent] += LogRatio[parent];
            LogRatio[parent] = ParentLikelihoods.Settled(LogRatio[parent] - reference);
        }

        // "None of these" is the mean over relatives of every parent of the table, considered or not.
        NoneLogRatio = ParentLikelihoods.Settled(LogMean(RelativeShare) - reference);
        Normalise(RelativeShare);

        // Or temperatures that are not of one compound; a single one can't disagree with itself.
        if (temperatures > 1)
        {
            NoneLogRatio = Math.Log(2) + LogMean([
                Math.Log(1 - mixedShare) + NoneLogRatio,
                Math.Log(mixedShare) + LogOfMixed(all) - reference]);
        }
    }

    /// <summary>Log likelihood of an unlisted compound whose temperatures are not its own, each as likely as at random.</summary>
    private double LogOfMixed(IReadOnlyList<ParentLikelihoods> all)
    {
        var sums = new double[LogRatio.Length];
        foreach (var likelihoods in all)
        {
            if (likelihoods is TemperatureLikelihoods)
            {
                TensorPrimitives.Add(sums, likelihoods.LogReference, sums);
            }
            else
            {
                TensorPrimitives.Add(sums, likelihoods.UnlistedLogLikelihood, sums);
            }
        }

        return LogMean(sums);
    }

    private static double LogMean(ReadOnlySpan<double> logs)
    {
        var most = TensorPrimitives.Max(logs);
        var lent = ArrayPool<double>.Shared.Rent(logs.Length);
        var shares = lent.AsSpan(0, logs.Length);
        TensorPrimitives.Subtract(logs, most, shares);
        TensorPrimitives.Exp(shares, shares);
        var sum = TensorPrimitives.Sum<double>(shares);
        ArrayPool<double>.Shared.Return(lent);
        return most + Math.Log(sum / logs.Length);
    }

    /// <summary>Turns logarithms into shares that sum to 1.</summary>
    private static void Normalise(Span<double> logs)
    {
        var total = LogMean(logs) + Math.Log(logs.Length);
        TensorPrimitives.Subtract(logs, total, logs);
        TensorPrimitives.Exp(logs, logs);
    }

    private void SetProbabilities()
    {
        TensorPrimitives.Log(Prior, Probability);
        TensorPrimitives.Add(Probability, LogRatio, Probability);
        var logNone = NonePrior > 0 ? Math.Log(NonePrior) + NoneLogRatio : double.NegativeInfinity;
        var most = Math.Max(logNone, TensorPrimitives.Max<double>(Probability));
        TensorPrimitives.Subtract(Probability, most, Probability);
        TensorPrimitives.Exp(Probability, Probability);
        var none = Math.Exp(logNone - most);
        var sum = none + TensorPrimitives.Sum<double>(Probability);
        TensorPrimitives.Divide(Probability, sum, Probability);
        NoneProbability = none / sum;
    }
}

/// <summary>Probabilities over a whole snapshot, without explanations.</summary>
public sealed class PosteriorView
{
    private readonly Posterior _posterior;

    internal PosteriorView(Posterior posterior) => _posterior = posterior;

    /// <summary>Shape: one a parent, in snapshot order.</summary>
    public IReadOnlyList<double> Probability => _posterior.Probability;

    /// <summary>Shape: one a parent, in snapshot order. Natural logarithm.</summary>
    public IReadOnlyList<double> LogLikelihoodRatio => _posterior.LogRatio;

    /// <summary>Probability of "none of these"; all sum to 1.</summary>
    public double NoneOfThese => _posterior.NoneProbability;

    /// <summary>Its log likelihood ratio on the same scale.</summary>
    public double NoneLogLikelihoodRatio => _posterior.NoneLogRatio;

    /// <summary>Whether there was anything to weigh.</summary>
    public bool HoldsEvidence => _posterior.HoldsEvidence;

    /// <summary>The parents considered, most probable first. Shape: indices in the snapshot; ties by key.</summary>
    public IReadOnlyList<int> Order => _posterior.Order;

    /// <summary>Which of them cannot be told apart.</summary>
    public CandidateGroups Groups => _posterior.Groups;
}

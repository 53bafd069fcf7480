using Derivid.Core.Compounds;
using Derivid.Core.Observations;

namespace Derivid.Core.Ranking;

/// <summary>Ranks the parents of one table version against an observation and explains the ranking.</summary>
/// <remarks>
/// Deterministic: no clock, no chance, no order of evidence. All pieces of evidence are taken as independent given the
/// compound, which simplifies: the melting points of two derivatives of one compound go together a little, and so do
/// colour and structure-driven tests; tests that ask one question share a latent answer. Thread safety: immutable.
/// </remarks>
/// <param name="snapshot">The table version laid out for ranking.</param>
public sealed class IdentificationEngine(TableSnapshot snapshot)
{
    /// <summary>Candidates explained when a caller does not say.</summary>
    public const int DefaultCandidates = 10;

    /// <summary>Identifies the compound behind an observation.</summary>
    /// <param name="observation">What was seen; every key in it must be one of the table's.</param>
    /// <param name="maximumCandidates">How many candidates to list and explain. Bounds: 1 up.</param>
    /// <returns>The ranking.</returns>
    /// <exception cref="ArgumentException">A key is not in the table, or the prior leaves no candidate.</exception>
    public Identification Identify(Observation observation, int maximumCandidates = DefaultCandidates)
    {
        ArgumentNullException.ThrowIfNull(observation);
        ArgumentOutOfRangeException.ThrowIfLessThan(maximumCandidates, 1);
        using var weighed = WeighedObservation.Weigh(observation, snapshot);
        using var posterior = Posterior.Of(weighed.Likelihoods, observation.Prior, snapshot);
        return new Explanation(weighed, posterior).Write(maximumCandidates);
    }

    /// <summary>Ranks as <see cref="Identify"/> does, and gives no reasons.</summary>
    /// <inheritdoc cref="Identify"/>
    public Ranking Rank(Observation observation, int maximumCandidates = DefaultCandidates)
    {
        ArgumentNullException.ThrowIfNull(observation);
        ArgumentOutOfRangeException.ThrowIfLessThan(maximumCandidates, 1);
        using var weighed = WeighedObservation.Weigh(observation, snapshot);
        using var posterior = Posterior.Of(weighed.Likelihoods, observation.Prior, snapshot);
        return new Ranking
        {
            TableVersion = snapshot.Table.Version,
            ModelVersion = snapshot.Settings.Version,
            CandidatesConsidered = posterior.Considered,
            Candidates = [.. posterior.First(maximumCandidates).ToArray().Select(parent => (snapshot.Parents[parent], posterior.Probability[parent]))],
            NonePosterior = posterior.NoneProbability,
            NoneLeads = posterior.NoneLeads,
            Groups = [.. posterior.Inseparable.Select(group => (
                (IReadOnlyList<Parent>)[.. group.Select(parent => snapshot.Parents[parent])], posterior.Total(group)))],
        };
    }

    /// <summary>Probabilities over the whole snapshot, for callers that go on reckoning.</summary>
    /// <param name="observation">What was seen; every key in it must be one of the table's.</param>
    /// <returns>The posterior.</returns>
    /// <exception cref="ArgumentException">A key is not in the table, or the prior leaves no candidate.</exception>
    public PosteriorView Weigh(Observation observation)
    {
        ArgumentNullException.ThrowIfNull(observation);
        return new PosteriorView(Posterior.Of(WeighedObservation.Weigh(observation, snapshot).Likelihoods, observation.Prior, snapshot));
    }
}

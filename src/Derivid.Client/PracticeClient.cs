using Derivid.Contracts;
using Derivid.Core.Practice;

namespace Derivid.Client;

/// <summary>What is done at the bench.</summary>
public sealed class PracticeClient
{
    private readonly Wire _wire;

    internal PracticeClient(Wire wire) => _wire = wire;

    /// <summary>Works out how a derivative is made; stores nothing.</summary>
    /// <param name="preparation">What is to be made, of what and how much.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DerividException">Among others: the scale is unsafe, or the parent does not form the derivative.</exception>
    public Task<PreparationSheet> PrepareAsync(PreparationRequest preparation, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<PreparationSheet>("preparations", preparation, null, cancellationToken);

    /// <summary>Guides the reading of a melting range, and tells what one that was read means for the purity; stores nothing.</summary>
    /// <param name="reading">What is to be melted, and what was read.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DerividException">Among others: a range can't be read, or an observation is sent amid an examination.</exception>
    public Task<ReadingGuide> GuideReadingAsync(ReadingGuideRequest reading, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<ReadingGuide>("reading-guides", reading, null, cancellationToken);
}

using Derivid.Contracts;
using Derivid.Core.Practice;
using Derivid.Core.Practice.Decisions;

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

    /// <summary>Plans the shortest way to a name for a shelf of compounds; takes up to some seconds, and stores nothing.</summary>
    /// <param name="decision">The compounds, and what the laboratory has.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DerividException">Among others: a name is not known.</exception>
    public Task<DecisionSheet> DecideAsync(DecisionRequest decision, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<DecisionSheet>("decision-sheets", decision, null, cancellationToken);

    /// <summary>Asks what a step not yet taken would show; stores nothing.</summary>
    /// <param name="forecast">What was seen so far, and the step.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DerividException">Among others: the observation has the step already.</exception>
    public Task<StepForecast> ForecastAsync(ForecastRequest forecast, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<StepForecast>("forecasts", forecast, null, cancellationToken);

    /// <summary>Guides the reading of a melting range, and tells what one that was read means for the purity; stores nothing.</summary>
    /// <param name="reading">What is to be melted, and what was read.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <exception cref="DerividException">Among others: a range can't be read, or an observation is sent amid an examination.</exception>
    public Task<ReadingGuide> GuideReadingAsync(ReadingGuideRequest reading, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<ReadingGuide>("reading-guides", reading, null, cancellationToken);
}

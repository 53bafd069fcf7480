using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Identifying unknowns, and what was identified before.</summary>
public sealed class IdentificationsClient
{
    private readonly Wire _wire;

    internal IdentificationsClient(Wire wire) => _wire = wire;

    /// <summary>Ranks the parents of the table against what was observed.</summary>
    /// <param name="observation">What was seen and measured.</param>
    /// <param name="store">Whether to keep the answer, so that it can be fetched and replayed by its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<IdentificationReply> IdentifyAsync(
        IdentificationRequest observation, bool store = true, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<IdentificationReply>(
            Address.Of("identifications", new { store }), observation, null, cancellationToken);

    /// <summary>The same for an observation already written as JSON, which is sent as it is.</summary>
    /// <param name="observation">UTF-8 JSON.</param>
    /// <param name="store">Whether to keep the answer.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<IdentificationReply> IdentifyAsync(
        ReadOnlyMemory<byte> observation, bool store = true, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<IdentificationReply>(
            Address.Of("identifications", new { store }), Wire.Json(observation), null, cancellationToken);

    /// <summary>Ranks as <see cref="IdentifyAsync(IdentificationRequest, bool, CancellationToken)"/> does and gives no reasons; nothing is stored.</summary>
    /// <param name="observation">What was seen and measured.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<RankingReply> RankAsync(IdentificationRequest observation, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<RankingReply>("rankings", observation, null, cancellationToken);

    /// <summary>Ranks for many observations, each by itself.</summary>
    /// <param name="items">The observations; 1 to 1000.</param>
    /// <param name="store">Whether to keep the answers; true needs a key. Missing: with a key, yes.</param>
    /// <param name="cancellationToken">Gives up.</param>
    /// <returns>Shape: one result an item, in the same order, each an identification or a problem.</returns>
    public Task<BatchReply> IdentifyAsync(
        IReadOnlyList<BatchItem> items, bool? store = null, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<BatchReply>(
            Address.Of("identification-batches", new { store }), new BatchRequest { Items = items }, null, cancellationToken);

    /// <summary>The same for a batch already written as JSON, which is sent as it is.</summary>
    /// <param name="batch">UTF-8 JSON: an object with "items".</param>
    /// <param name="store">Whether to keep the answers; true needs a key. Missing: with a key, yes.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<BatchReply> IdentifyBatchAsync(
        ReadOnlyMemory<byte> batch, bool? store = null, CancellationToken cancellationToken = default) =>
        _wire.PostAsync<BatchReply>(
            Address.Of("identification-batches", new { store }), Wire.Json(batch), null, cancellationToken);

    /// <summary>A stored identification, as it was first answered.</summary>
    /// <param name="id">The id it was answered with.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<IdentificationReply> GetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<IdentificationReply>($"identifications/{Address.Segment(id)}", cancellationToken);

    /// <summary>The observation behind a stored identification: keys for names, figures for texts, defaults written out.</summary>
    /// <param name="id">The id it was answered with.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<IdentificationRequest> GetObservationAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<IdentificationRequest>($"identifications/{Address.Segment(id)}/observation", cancellationToken);

    /// <summary>Works a stored identification out again; a result that differs from the stored one is a problem.</summary>
    /// <param name="id">The id it was answered with.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<IdentificationReply> ReplayAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<IdentificationReply>($"identifications/{Address.Segment(id)}/replay", cancellationToken);
}

using Derivid.Contracts;

namespace Derivid.Client;

/// <summary>Registered thermometers; each call needs a key.</summary>
public sealed class ThermometersClient
{
    private readonly Wire _wire;

    internal ThermometersClient(Wire wire) => _wire = wire;

    /// <summary>Those at your bench: your own, and those of the staff of your courses.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<ThermometerLink> ListAsync(CancellationToken cancellationToken = default) =>
        _wire.ListAsync<ThermometerLink>("thermometers", cancellationToken);

    /// <summary>One with its calibrations and its correction.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ThermometerItem> GetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<ThermometerItem>($"thermometers/{Address.Segment(id)}", cancellationToken);

    /// <summary>Registers one.</summary>
    /// <param name="request">The thermometer.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again registers no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ThermometerItem> RegisterAsync(
        ThermometerRequest request, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ThermometerItem>(
            Wire.Request(HttpMethod.Post, "thermometers", request).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>Tells what standards read on one.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="request">The readings.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again tells nothing twice. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<ThermometerItem> CalibrateAsync(
        string id, CalibrationRequest request, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<ThermometerItem>(
            Wire.Request(HttpMethod.Post, $"thermometers/{Address.Segment(id)}/calibrations", request).WithIdempotencyKey(idempotencyKey), cancellationToken);
}

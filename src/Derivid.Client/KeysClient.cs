using Derivid.Contracts;
using Derivid.Core.Teaching;

namespace Derivid.Client;

/// <summary>Giving out keys and taking them back. All but <see cref="GetCurrentAsync"/> and <see cref="ListPeopleAsync"/> needs an administrator's key.</summary>
public sealed class KeysClient
{
    private readonly Wire _wire;

    internal KeysClient(Wire wire) => _wire = wire;

    /// <summary>Who the service takes you for.</summary>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<CallerItem> GetCurrentAsync(CancellationToken cancellationToken = default) =>
        _wire.GetAsync<CallerItem>("keys/current", cancellationToken);

    /// <summary>Those who teach, grade or curate with a key, by name; for graders and up.</summary>
    /// <param name="role">Of one role. Missing: of any.</param>
    /// <param name="isUsable">True: those whose keys open something; false: those whose keys are revoked or expired. Missing: both.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<PersonItem> ListPeopleAsync(
        Role? role = null, bool? isUsable = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<PersonItem>(Address.Of("people", new KeyQuery { Role = role, IsUsable = isUsable }), cancellationToken);

    /// <summary>The keys given out, without their secrets.</summary>
    /// <param name="role">Of one role. Missing: of any.</param>
    /// <param name="isUsable">True: those that open something; false: revoked and expired ones. Missing: both.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public IAsyncEnumerable<KeyItem> ListAsync(
        Role? role = null, bool? isUsable = null, CancellationToken cancellationToken = default) =>
        _wire.ListAsync<KeyItem>(Address.Of("keys", new KeyQuery { Role = role, IsUsable = isUsable }), cancellationToken);

    /// <summary>One key, without its secret.</summary>
    /// <param name="id">Its public part.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<KeyItem> GetAsync(string id, CancellationToken cancellationToken = default) =>
        _wire.GetAsync<KeyItem>($"keys/{Address.Segment(id)}", cancellationToken);

    /// <summary>Makes a key. The whole of it is in this answer and nowhere else: sent again, the problem is key-already-made (409).</summary>
    /// <param name="request">The key to be made.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="idempotencyKey">Marks the request, so that sending it again makes no other. Missing: one of its own.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public Task<KeyMade> CreateAsync(
        KeyRequest request, string? reason = null, string? idempotencyKey = null, CancellationToken cancellationToken = default) =>
        _wire.SendAsync<KeyMade>(
            Wire.Request(HttpMethod.Post, "keys", request, reason).WithIdempotencyKey(idempotencyKey), cancellationToken);

    /// <summary>Revokes a key for good.</summary>
    /// <param name="id">Its public part.</param>
    /// <param name="reason">Why, for the audit log. Missing: not said.</param>
    /// <param name="cancellationToken">Gives up.</param>
    public async Task RevokeAsync(string id, string? reason = null, CancellationToken cancellationToken = default)
    {
        using var answer = await _wire.SendAsync(
            Wire.Request(HttpMethod.Delete, $"keys/{Address.Segment(id)}", reason: reason), cancellationToken);
    }
}

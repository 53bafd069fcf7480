namespace Derivid.Store.Idempotency;

/// <summary>A request with a key that was carried out, and what came of it.</summary>
/// <param name="Actor">Who sent it.</param>
/// <param name="Key">The sender's own word for it.</param>
/// <param name="RequestHash">Hash of address and body.</param>
/// <param name="Resource">Id of what it created.</param>
/// <param name="AtUtc">When. Units: UTC.</param>
public sealed record IdempotentRequest(string Actor, string Key, string RequestHash, string Resource, DateTime AtUtc);

/// <summary>Names a request that may be sent again and must then change nothing.</summary>
/// <param name="Actor">Who sends it, as the audit log names them.</param>
/// <param name="Key">The sender's own word for it.</param>
/// <param name="RequestHash">Hash of address and body, so that one word is not used for two things.</param>
public sealed record IdempotencyKey(string Actor, string Key, string RequestHash);

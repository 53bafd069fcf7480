namespace Derivid.Client.Keys;

/// <summary>Who the service takes the sender for.</summary>
/// <param name="Actor">As the audit log names them: "key:" and the public part, or "sign-in:" with subject and issuer.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Key">The key that was sent. Missing: they signed in at the institution.</param>
public sealed record CallerItem(string Actor, Role Role, KeyItem? Key);

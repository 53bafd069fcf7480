using System.ComponentModel.DataAnnotations;

namespace Derivid.Contracts;

/// <summary>One write, as the audit log keeps it.</summary>
/// <param name="Sequence">Its place in the log: from 1, without gaps, in the order the writes came to stand.</param>
/// <param name="At">When (RFC 3339, UTC).</param>
/// <param name="Actor">
/// Who: "key:" and a key's public part, "sign-in:" with subject and issuer, or "service"; "withheld" of a student's report that is
/// marked anonymously, until its grades are published.
/// </param>
/// <param name="Action">What was done: the kind of thing and a verb, such as "key.revoke".</param>
/// <param name="Resource">What it was done to: the address below /api/v1.</param>
/// <param name="Reason">Why, in the actor's words. Missing: they didn't say.</param>
/// <param name="TableVersion">Version of the reference table it started from. Missing: it has nothing to do with the table.</param>
/// <param name="TraceId">Names the request in the service's logs and traces. Missing: no request asked for it, or it is withheld with the actor.</param>
public sealed record AuditItem(
    long Sequence,
    DateTime At,
    string Actor,
    string Action,
    string Resource,
    string? Reason,
    int? TableVersion,
    string? TraceId);

/// <summary>What the audit log can be asked.</summary>
public sealed record AuditQuery : PageQuery
{
    /// <summary>By whom, exactly as the log names them; what is withheld is nobody's. Missing: by anyone.</summary>
    [StringLength(500)]
    public string? Actor { get; init; }

    /// <summary>What, exactly, such as "key.revoke". Missing: anything.</summary>
    public string? Action { get; init; }

    /// <summary>To what, exactly, such as "keys/" and a public part. Missing: to anything.</summary>
    [StringLength(500)]
    public string? Resource { get; init; }

    /// <summary>In which order. Missing: newest first.</summary>
    public AuditOrder? Order { get; init; }
}

/// <summary>In which order to read the audit log.</summary>
public enum AuditOrder
{
    /// <summary>What happened lately comes first.</summary>
    NewestFirst,

    /// <summary>From the beginning.</summary>
    OldestFirst,
}
